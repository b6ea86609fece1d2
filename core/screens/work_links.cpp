#include "screens/work_links.h"

#include "look/card.h"
#include "look/rows.h"
#include "trade/calculation.h"

namespace steep {

WorkLinks work_links(const Words& words, std::initializer_list<std::string_view> names) {
  WorkLinks links;
  links.head = words("work.title"_w);
  for (const std::string_view name : names)
    if (const Calculation* one = find_calculation(name)) links.links.push_back({std::string(name), words(one->title)});
  return links;
}

std::optional<Ask> draw_work_links(Pen& pen, const WorkLinks& links, const Id& record) {
  std::optional<Ask> ask;
  Card card(pen, {.id = "work-links", .head = links.head});
  for (std::size_t i = 0; i < links.links.size(); ++i) {
    const WorkLinks::Link& link = links.links[i];
    if (list_row(card.pen, {.id = link.name, .icon = Icon::Dialpad, .first = link.title, .line_above = i > 0}))
      ask = Go{{"calculation", record, {}, link.name}};
  }
  return ask;
}

}  // namespace steep
