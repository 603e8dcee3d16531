"""The look of a report's page: portrait, black on white, a few pages."""

REPORT_STYLE = """
@page { size: portrait; margin: 11mm 12mm; }
body { font-size: 8.5pt; line-height: 1.25; }
header { border-bottom: 2pt solid #000; margin-bottom: 2.5mm; padding-bottom: 1mm; }
header p { display: flex; flex-wrap: wrap; gap: 0 5mm; }
header .made { margin-left: auto; }
h1 { font-size: 17pt; line-height: 1.1; margin: 0 0 1mm 0; }
h2 { border-bottom: 1pt solid #000; break-after: avoid; font-size: 10.5pt; margin: 0 0 1mm 0; }
p { margin: 0 0 1mm 0; }
section, figure { margin: 0 0 3.5mm 0; }
figure, .key, .things, .caution { break-inside: avoid; }
figure svg { display: block; height: auto; width: 100%; }
figcaption { font-size: 8pt; }
figcaption b { font-weight: bold; }
figure svg text { font-family: Arial, "Liberation Sans", Helvetica, sans-serif !important; }
.pair { align-items: flex-start; display: flex; gap: 5mm; }
.pair > * { flex: 1 1 0; min-width: 0; }
.things { border: 2pt solid #000; padding: 1.5mm 3mm; }
.things h2 { border: 0; font-size: 13pt; margin: 0; }
.things li { border-top: 0.5pt solid #000; padding: 1mm 0 1mm 6mm; position: relative; }
.things .number { font-size: 14pt; left: 0; line-height: 1; position: absolute; }
.things .what { font-size: 10.5pt; font-weight: bold; }
.things p { margin: 1mm 0 0 0; }
code { font-family: "Liberation Mono", "Courier New", monospace; font-size: 0.95em; }
.note { font-size: 7.5pt; margin-top: 0.7mm; }
table { font-size: 8pt; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { border-bottom: 0.5pt solid #999; padding: 0.35mm 1.5mm 0.35mm 0; }
thead th { border-bottom: 1pt solid #000; vertical-align: bottom; }
th.n, td.n { padding-right: 0; padding-left: 2mm; text-align: right; white-space: nowrap; }
tr.sum th, tr.sum td { border-top: 1pt solid #000; font-weight: bold; }
.meanings th { width: 30mm; }
.caution { border: 1.5pt solid #000; padding: 1mm 2mm; }
@media screen { body { margin: 16px auto; max-width: 900px; padding: 0 16px; } }
"""
