import { typePt } from "./card-type.ts";

/** A size of type that shrinks with a long card, but never below 9 pt. */
const size = (pt: number) => `font-size: max(9pt, calc(${pt}pt * var(--type)));`;

/** Style of the bench card: black on white, legible at arm's length, one page of A4 or Letter. */
export const cardStyle = `
@page { size: auto; margin: 8mm; }
* { box-sizing: border-box; }
body {
	margin: 0 auto;
	max-width: 200mm;
	font-family: "Liberation Sans", Arial, Helvetica, "DejaVu Sans Condensed", sans-serif;
	line-height: 1.15;
	color: #000;
	background: #fff;
}
p { margin: 0; }
i { display: inline-block; min-width: 15mm; height: 1em; margin: 0 1mm; border-bottom: 1px solid #000; }

article { break-after: page; ${size(typePt.body)} }
article:last-child { break-after: auto; }

header { display: flex; justify-content: space-between; gap: 6mm; margin-bottom: 1mm; border-bottom: 2px solid #000; }
h1 { margin: 0; ${size(typePt.title)} line-height: 1.1; }
.for { display: inline-block; margin: 0.5mm 0; padding: 0 2mm; border: 2px solid #000; font-weight: bold; }
.mark { flex: none; text-align: right; ${size(typePt.note)} }
.code { font-family: "Liberation Mono", "DejaVu Sans Mono", monospace; font-weight: bold; letter-spacing: 0.06em; }
.held { margin: 1mm 0; padding: 1mm 2mm; border: 3px solid #000; font-weight: bold; }
.line { ${size(typePt.note)} }

.readings { margin: 1mm 0; padding: 0.5mm 2mm; border: 2px solid #000; }
.readings table { width: 100%; border-collapse: collapse; }
.readings th, .readings td { padding-right: 3mm; }
.readings th { ${size(typePt.note)} text-align: left; font-weight: normal; }
.readings td { ${size(typePt.cell)} }
.readings td b { ${size(typePt.body + 2)} white-space: nowrap; }
.blanks { ${size(typePt.note)} padding-top: 1mm; }

.rows { width: 100%; margin: 1mm 0; border-collapse: collapse; table-layout: fixed; }
.rows thead th { border-bottom: 1px solid #000; font-size: 9pt; font-weight: normal; text-align: left; }
.rows tbody { border-bottom: 1px solid #777; break-inside: avoid; }
.rows td, .rows tbody th { padding: 0 1.5mm 0 0; vertical-align: top; text-align: left; overflow-wrap: break-word; }
.rows td { ${size(typePt.cell)} }
.rows tbody th { ${size(typePt.grade - 2)} white-space: nowrap; }
.rows .stage, .rows .work { ${size(typePt.body)} }
.rows .work { font-weight: bold; }
.grade { ${size(typePt.grade)} line-height: 1; white-space: nowrap; }
small { ${size(typePt.note)} }
.rows .notes td { ${size(typePt.note)} }
.rows .done { padding: 0; font-size: 18pt; text-align: right; line-height: 1; }

.drawing svg { display: block; width: 100%; height: auto; margin: 4mm 0; break-inside: avoid; }

.sign { margin-top: 2mm; ${size(typePt.note)} }
.sign i { min-width: 25mm; }
.caution { font-size: 9pt; line-height: 1.1; }

@media screen { body { padding: 6mm; } article { margin-bottom: 12mm; } }
`;
