#include "paper/inspection_parts.h"

namespace steep {

void table_head(Html& html, const Words& words, std::initializer_list<WordId> heads, std::string_view css) {
  html.open("table", {{"class", css}}).open("thead").open("tr");
  for (const WordId head : heads) html.leaf("th", words(head));
  html.close("tr").close("thead");
}

void lines_cell(Html& html, const std::vector<std::string>& lines, std::size_t kept) {
  html.open("td");
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i > 0) html.raw("<br>");
    if (i < kept)
      html.open("span", {{"class", "w"}}).text(lines[i]).raw("</span>");
    else
      html.text(lines[i]);
  }
  html.close("td");
}

}  // namespace steep
