/** "3", "3.", "3a", "Step 3", "Paso 3". */
export function isNumbering(text: string): boolean {
	return /^(?:step|paso|no\.?|nº|n\.º|#)?\s*\d{1,3}(?:\.\d{1,2})?\s*[.):]?\s*[a-z]?$/i.test(text);
}
