#include "paper/style.h"

namespace steep {

std::string_view report_style() {
  return R"(
@page { size: landscape; margin: 12mm; @bottom-right { content: counter(page) " / " counter(pages); font: 7.5pt sans-serif; } }
html { font: 8.5pt/1.35 "B612", "DejaVu Sans", "Noto Sans", Verdana, sans-serif; color: #000; background: #fff; }
body { margin: 0 auto; padding: 12pt; max-width: 1060pt; }
h1 { font-size: 14pt; margin: 0; }
h2 { font-size: 10.5pt; margin: 12pt 0 3pt; break-after: avoid; }
h3 { font-size: 9pt; margin: 8pt 0 2pt; break-after: avoid; }
p { margin: 2pt 0; }
.head { display: flex; gap: 9pt; align-items: flex-start; border-bottom: 1.5pt solid #000; padding-bottom: 6pt; }
.head .made { margin-left: auto; text-align: right; }
.mark { flex: none; }
.totals { display: flex; flex-wrap: wrap; gap: 4pt 22pt; margin: 7pt 0; }
.totals b { display: block; font-size: 11pt; }
table { border-collapse: collapse; width: 100%; }
th { text-align: left; border-bottom: 1.5pt solid #000; padding: 1pt 5pt 2pt 0; font-weight: bold; vertical-align: bottom; }
td { border-bottom: .5pt solid #767676; padding: 2pt 5pt 2pt 0; vertical-align: top; }
tr { break-inside: avoid; }
thead { display: table-header-group; }
.n { text-align: right; white-space: nowrap; }
.w { white-space: nowrap; }
.struck td { color: #333; }
s { text-decoration-thickness: 1pt; }
.passes th:nth-child(2), .passes th:nth-child(12) { width: 6%; }
.passes th:nth-child(3), .passes th:nth-child(4), .passes th:nth-child(5) { width: 11%; }
.passes th:nth-child(8) { width: 9%; }
.passes th:nth-child(9) { width: 13%; }
.brews th:nth-child(1) { width: 7%; }
.brews th:nth-child(4) { width: 20%; }
.brews th:nth-child(6) { width: 33%; }
.brews th:nth-child(7), .brews th:nth-child(8), .brews th:nth-child(9) { width: 8%; }
.beds { font-size: 8pt; width: auto; }
.beds th, .beds td { padding: 1pt 12pt 1pt 0; }
.beds thead th { border-bottom-width: 1pt; }
.beds tbody th { border-bottom: .5pt solid #767676; padding-right: 6pt; vertical-align: top; }
.beds svg { display: block; margin-top: 1pt; }
.note { color: #333; }
.open { border: 1pt solid #000; padding: 4pt 6pt; margin: 6pt 0; break-inside: avoid; }
.demo { border: 2pt solid #000; padding: 3pt 6pt; font-weight: bold; text-align: center; margin-bottom: 6pt; }
.foot { border-top: 1.5pt solid #000; margin-top: 12pt; padding-top: 5pt; break-inside: avoid; }
.sign { margin-top: 22pt; display: flex; gap: 24pt; }
.sign span { border-top: .75pt solid #000; flex: 1; padding-top: 2pt; }
@media print { body { padding: 0; max-width: none; } }
)";
}

}  // namespace steep
