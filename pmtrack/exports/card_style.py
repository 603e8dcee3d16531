"""The look of the job cards: black on white, one job a page."""

CARD_STYLE = """
@page { size: portrait; margin: 10mm; }
body { font-size: 9.5pt; line-height: 1.2; }
article { break-after: page; }
article:last-child { break-after: auto; }
h1 { display: inline; font-size: 18pt; }
h2 { break-after: avoid; font-size: 11pt; margin: 0 0 1mm 0; }
p { margin: 0 0 1mm 0; }
section, table, header, .facts { margin-bottom: 2.5mm; }
header { border-bottom: 2pt solid #000; }
header .machine { font-size: 12pt; margin-left: 4mm; }
header p { font-size: 13pt; font-weight: bold; }
.cautions { border: 3pt solid #000; padding: 1.5mm 3mm; }
.cautions h2 { font-size: 13pt; text-transform: uppercase; }
.cautions li { border-top: 0.5pt solid #000; font-weight: bold; padding: 0.5mm 0; }
.facts { break-inside: avoid; columns: 2; column-gap: 6mm; }
.facts li { break-inside: avoid; display: flex; gap: 2mm; padding: 0.2mm 0; }
.facts b { flex: none; width: 29mm; }
.box { border: 1.25pt solid #000; display: inline-block; height: 4mm; vertical-align: -0.8mm;
  width: 4mm; }
.blank { border-bottom: 1pt solid #000; display: inline-block; height: 5mm; min-width: 20mm; }
.steps thead { display: table-header-group; }
.steps th { border-bottom: 1.5pt solid #000; }
.steps th, .steps td { padding: 0.5mm 2mm 0.5mm 0; }
.steps td { border-bottom: 0.5pt solid #000; }
.steps tr { break-inside: avoid; }
.steps td:nth-child(1) { width: 6mm; }
.steps td:nth-child(2) { text-align: right; width: 7mm; }
.steps td:nth-child(4) { width: 66mm; }
.reading, .option { white-space: nowrap; }
.steps .name { font-size: 8pt; }
.parts, .record, .command { break-inside: avoid; }
.parts li { break-inside: avoid; padding: 0.5mm 0; }
.parts ul { columns: 2; }
.notes p { border-left: 2pt solid #000; padding-left: 2mm; }
.record { border: 1pt solid #000; padding: 1.5mm 3mm; }
.record .ruled { border-bottom: 0.5pt solid #000; height: 6.5mm; }
.record ul { display: grid; gap: 0 6mm; grid-template-columns: 1fr 1fr 1fr; margin-top: 1mm; }
.record li { align-items: end; display: flex; gap: 2mm; }
.record li .blank { flex: 1; height: 7.5mm; min-width: 10mm; }
.command code { border: 0.75pt solid #000; display: block; font-family: "Courier New",
  "Liberation Mono", monospace; font-size: 9pt; padding: 1mm 2mm; }
@media screen { body { margin: 16px auto; max-width: 800px; padding: 0 16px; }
  article { border-bottom: 6px double #000; margin-bottom: 32px; padding-bottom: 16px; } }
"""
