"""The look of a quarter's sheet: black on white, so that any printer does."""

SHEET_STYLE = """
@page { size: landscape; margin: 8mm; }
body { font-size: 8pt; line-height: 1.15; }
header { align-items: baseline; border-bottom: 2pt solid #000; display: flex; flex-wrap: wrap;
  gap: 0 5mm; margin-bottom: 1.5mm; padding-bottom: 1mm; }
h1 { font-size: 17pt; line-height: 1.1; margin: 0; }
header .range { font-size: 10pt; }
header .sums { font-size: 8pt; margin-left: auto; text-align: right; }
.grid { font-size: var(--size); table-layout: fixed; }
.grid th, .grid td { border: 0.75pt solid #000; padding: 0.5mm 1mm; }
.grid tr { break-inside: avoid; }
.grid thead { display: table-header-group; }
.grid thead th { border-bottom-width: 1.5pt; font-size: 8.5pt; }
.grid .key { border: 0; font-size: 7pt; font-weight: normal; padding: 0 0 1mm 0; }
.key .running { font-weight: bold; margin-right: 5mm; }
.key .meaning { display: inline-block; margin-right: 4mm; }
.key .boxed { border: 1.25pt solid #000; display: inline-block; font-style: normal;
  padding: 0 1mm; }
.grid col.week { width: 12mm; }
.grid col.load { width: 24mm; }
.grid tbody th b { display: block; font-size: 1.4em; }
.grid tbody th span { font-weight: normal; }
.date { display: flex; justify-content: space-between; }
.date b { font-size: 1.1em; }
.grid .jobs { display: inline-block; margin-right: 1.2mm; max-width: 100%; padding-left: 2mm;
  text-indent: -2mm; vertical-align: top; }
.visit .firm { border-bottom: 0.5pt solid #000; margin-bottom: 0.3mm; }
.visit { border: 1.25pt solid #000; border-left-width: 4pt; margin: 0.6mm 0; padding: 0.4mm 1mm; }
.closed { background: repeating-linear-gradient(135deg, #fff 0 1.6mm, #999 1.6mm 1.9mm); }
.closed .said span { background: #fff; font-weight: bold; padding: 0 1mm; }
.closed .date b, .closed .own, .closed .visit { background: #fff; }
.grid .outside { border-style: dotted; }
.outside .said, .outside .date { font-style: italic; }
.bar { display: flex; height: 2.4mm; margin: 0.5mm 0; }
.bar .fill { border-top: 2.4mm solid #000; }
.bar .free { border: 0.75pt solid #000; }
.bar .over { border-bottom: 1.2mm dotted #000; border-top: 1.2mm dashed #000; }
.foot { columns: 3; column-gap: 4mm; font-size: min(8pt, var(--size)); margin-top: 2mm; }
.foot h2 { break-after: avoid; border-bottom: 1.25pt solid #000; font-size: 1.2em;
  margin: 0 0 1mm 0; }
.foot section { margin-bottom: 2mm; }
section.unfit, section.caution, .foot tr, .foot li { break-inside: avoid; }
.foot th, .foot td { border-bottom: 0.5pt solid #000; padding: 0.2mm 1.5mm 0.2mm 0; }
.foot td:not(:last-child), .foot .time { white-space: nowrap; }
.foot td:not(:last-child) { width: 1%; }
.foot li { border-bottom: 0.5pt dotted #000; padding: 0.2mm 0; }
.foot .unfit, .foot .caution { border: 1.5pt solid #000; padding: 0.6mm 1.5mm; }
.foot p { margin: 0; }
@media screen { body { margin: 16px auto; max-width: 1400px; padding: 0 16px; }
  .grid, .grid .key, .foot { font-size: 9.5pt; } }
"""
