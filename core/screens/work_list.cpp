#include "screens/work_list.h"

#include <algorithm>
#include <array>

#include "base/text.h"
#include "look/card.h"
#include "look/field.h"
#include "look/rows.h"
#include "screens/parts.h"
#include "trade/calculation.h"

namespace steep {
namespace {

struct TopicIcon {
  std::string_view topic;
  Icon icon;
};
constexpr TopicIcon kIcons[] = {{"plan", Icon::Calendar}, {"mix", Icon::Flask},        {"water", Icon::Water},
                                {"air", Icon::Air},       {"brew", Icon::Brew},        {"spray", Icon::Spray},
                                {"weather", Icon::Wind},  {"field", Icon::Ruler},      {"wait", Icon::Clock},
                                {"compost", Icon::Heap},  {"count", Icon::Microscope}, {"money", Icon::Tag}};

Icon icon_of(std::string_view topic) {
  const auto found =
      std::find_if(std::begin(kIcons), std::end(kIcons), [&](const TopicIcon& one) { return one.topic == topic; });
  return found == std::end(kIcons) ? Icon::Gauge : found->icon;
}

/// Does `text` hold every word that was typed?
bool holds_all(const std::string& text, std::string_view find) {
  for (const std::string_view word : split(find, ' '))
    if (!word.empty() && text.find(lower(word)) == std::string::npos) return false;
  return true;
}

}  // namespace

WorkListView work_list(const Words& words, std::string_view find) {
  WorkListView view;
  view.title = words("work.title"_w);
  view.second = words("work.second"_w);
  view.find = words("work.find"_w);
  view.nothing = words("work.nothing_found"_w);
  for (const Calculation* one : all_calculations()) {
    const std::string topic = words.stored("topic." + std::string(one->topic), one->topic);
    const std::string title = words(one->title);
    if (!holds_all(lower(title + " " + topic + " " + std::string(one->name)), find)) continue;
    const auto same =
        std::find_if(view.topics.begin(), view.topics.end(), [&](const auto& t) { return t.key == one->topic; });
    WorkListView::Topic& place =
        same != view.topics.end()
            ? *same
            : view.topics.emplace_back(WorkListView::Topic{std::string(one->topic), topic, icon_of(one->topic), {}});
    place.rows.push_back({std::string(one->name), title});
  }
  return view;
}

Result<WorkListView> work_list_view(const Surroundings& around, const WorkListInput& input) {
  return work_list(around.words, input.find);
}

std::string draw_topics(Pen& pen, const WorkListView& view, std::string_view chosen) {
  std::string pressed;
  for (const WorkListView::Topic& topic : view.topics) {
    IdScope scope(topic.key);
    Card card(pen, {.id = "topic", .head = topic.name});
    for (std::size_t i = 0; i < topic.rows.size(); ++i) {
      const WorkListView::Row& row = topic.rows[i];
      if (list_row(card.pen, {.id = row.name,
                              .icon = topic.icon,
                              .first = row.title,
                              .chosen = row.name == chosen,
                              .line_above = i > 0,
                              .bleed = 10}))
        pressed = row.name;
    }
  }
  return pressed;
}

std::optional<Ask> draw_work_list(const WorkListView& view, WorkListInput& input, const Furniture& furniture) {
  const bool wide = look().wide_rail();
  Screen screen(wide ? furniture.tab("work", view.title, view.second)
                     : furniture.inner("work", view.title, view.second));
  std::string pressed;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen(), wide ? 1200 : size::kReading);
    text_field(pen,
               {.id = "find",
                .label = view.find,
                .hint = view.find,
                .icon = Icon::Magnify,
                .max_length = 40,
                .label_hidden = true},
               input.find);
    pen.space(size::kCardGap);
    if (view.topics.empty()) paragraph(pen, view.nothing, TextStyle::Strong);
    if (!wide) {
      pressed = draw_topics(pen, view, {});
    } else {
      // Three columns, each topic goes where least stands.
      std::array<Pen, 3> columns{pen.column({-1, -1, -1}, 0, 16), pen.column({-1, -1, -1}, 1, 16),
                                 pen.column({-1, -1, -1}, 2, 16)};
      for (const WorkListView::Topic& topic : view.topics) {
        Pen& column =
            *std::min_element(columns.begin(), columns.end(), [](const Pen& a, const Pen& b) { return a.y < b.y; });
        WorkListView one;
        one.topics = {topic};
        if (std::string name = draw_topics(column, one, {}); !name.empty()) pressed = std::move(name);
      }
      for (const Pen& column : columns) pen.below(column);
    }
    main.pen().below(pen);
  }
  if (!pressed.empty()) return Go{{"calculation", {}, {}, pressed}};
  return furniture.asked(screen);
}

}  // namespace steep
