/** The look of the leg table on paper: black on white, hairlines, nothing below 9 pt, nothing said by colour or grey alone. */
export const TABLE_STYLE = `
html { color: #000; background: #fff; font: 10pt/1.3 "Table", system-ui, sans-serif; font-variant-numeric: tabular-nums; }
body { margin: 0; overflow-wrap: anywhere; }
h1 { font-size: 16pt; line-height: 1.2; margin: 0; }
p { margin: 0 0 1mm; }
header { margin-bottom: 4mm; }
.when { font-weight: 700; }
.invented { font-size: 10pt; font-weight: 700; border: 0.2mm solid #000; padding: 1mm 2mm; }
table { width: 100%; border-collapse: collapse; }
thead { display: table-header-group; }
thead th { font-size: 9pt; line-height: 1.15; text-align: right; vertical-align: bottom; padding: 1mm 0.8mm; border-bottom: 0.2mm solid #000; overflow-wrap: normal; }
thead th[colspan] { border: 0; }
tbody { break-inside: avoid; }
tbody tr { break-inside: avoid; }
tbody + tbody { border-top: 0.1mm solid #000; }
td, tbody th { text-align: right; vertical-align: baseline; padding: 1.2mm 0.8mm 0.4mm; font-weight: 400; overflow-wrap: normal; }
thead th.left, tbody th.left { text-align: left; font-weight: 700; overflow-wrap: anywhere; min-width: 14mm; }
.ends { font-weight: 400; }
td.dial { font-size: 14pt; font-weight: 700; line-height: 1; }
td.names { text-align: left; overflow-wrap: anywhere; padding-bottom: 0; }
td.aids { text-align: left; overflow-wrap: anywhere; padding: 0 0.8mm 1.2mm; font-size: 9pt; }
/* Long sentences must not widen the columns they run under. */
td[colspan] > *, th[colspan] > * { contain: inline-size; display: block; }
.way { margin: 0 0 0.6mm; padding-left: 5mm; }
.aid b { margin-right: 1mm; }
.total tr:first-child td, .total th { font-weight: 700; padding-bottom: 1.2mm; }
tbody.total { border-top: 0.2mm solid #000; border-bottom: 0.2mm solid #000; }
.own, footer { margin-top: 4mm; }
footer { font-size: 9pt; }
footer ul { margin: 1mm 0 0; padding-left: 4mm; }
footer li { break-inside: avoid; }
`;
