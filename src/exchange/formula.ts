/**
 * A text that a spreadsheet would take for a formula; out of here such a text begins with an apostrophe. What already
 * begins with apostrophes before such a sign gets one more, so that reading can take exactly one away.
 */
export const formula = /^'*[=+\-@\t\r]/;
