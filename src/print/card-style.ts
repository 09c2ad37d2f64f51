/** Style of the bench card: black on white, legible at arm's length, one page of A4 or Letter. */
export const cardStyle = `
@page { size: auto; margin: 9mm; }
* { box-sizing: border-box; }
body {
	margin: 0 auto;
	max-width: 192mm;
	font: 14pt/1.2 system-ui, "Liberation Sans", Arial, sans-serif;
	color: #000;
	background: #fff;
}
p { margin: 1mm 0; }
i { display: inline-block; min-width: 15mm; height: 1em; margin: 0 1mm; border-bottom: 1px solid #000; }
h1 { margin: 0; font-size: 20pt; line-height: 1.1; }

.side { break-after: page; }
.side:last-child { break-after: auto; }

header { display: flex; justify-content: space-between; gap: 6mm; padding-bottom: 1mm; border-bottom: 2px solid #000; }
header p { font-size: 11pt; }
.mark { flex: none; text-align: right; }
.code { font-family: "Liberation Mono", monospace; font-weight: bold; letter-spacing: 0.06em; }
.for { display: inline-block; padding: 0 2mm; border: 2px solid #000; font-weight: bold; }
.held { padding: 1mm 2mm; border: 3px solid #000; font-weight: bold; }

.readings {
	display: flex;
	justify-content: space-between;
	gap: 4mm;
	margin: 2mm 0;
	padding: 1mm 3mm;
	border: 2px solid #000;
}
.readings b { font-size: 16pt; white-space: nowrap; }
.blanks { flex: none; font-size: 11pt; }
.when { margin: 1mm 0; font-size: 11pt; }

table { width: 100%; margin: 1mm 0; border-collapse: collapse; }
thead th { border-bottom: 1px solid #000; font-size: 9pt; text-align: left; }
tbody { border-bottom: 1px solid #777; break-inside: avoid; }
td, tbody th { padding: 0.5mm 1.5mm 0.5mm 0; vertical-align: top; }
td { font-size: 12pt; }
tbody th { font-size: 20pt; }
.what { font-size: 14pt; white-space: nowrap; }
.grade { font-size: 20pt; font-weight: bold; line-height: 1; }
.words td { font-size: 11pt; }
.words p { margin: 0; }
.check { font-style: italic; }
.doubt { font-weight: bold; }
.tick { font-size: 22pt; text-align: right; }

.long { font-size: 11pt; }
.long td, .long .words td { font-size: 9pt; }
.long .grade, .long tbody th { font-size: 14pt; }

.sign { font-size: 11pt; }
.sign i { min-width: 26mm; }
.caution, .printed { font-size: 8.5pt; }
.printed { text-align: right; }

@media screen { body { padding: 6mm; } }
`;
