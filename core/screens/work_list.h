#pragma once
/// All calculations of the trade, by task.

#include <string>
#include <vector>

#include "screens/page.h"

namespace steep {

struct WorkListView {
  std::string title, second, find, nothing;
  struct Row {
    std::string name, title;
    bool operator==(const Row&) const = default;
  };
  struct Topic {
    std::string key, name;
    Icon icon = Icon::None;
    std::vector<Row> rows;
    bool operator==(const Topic&) const = default;
  };
  std::vector<Topic> topics;
  bool operator==(const WorkListView&) const = default;
};
struct WorkListInput : PageInput {
  std::string find;
  bool operator==(const WorkListInput&) const = default;
};

/// Of all whose title, topic or name holds the words of `find`.
WorkListView work_list(const Words& words, std::string_view find);
Result<WorkListView> work_list_view(const Surroundings& around, const WorkListInput& input);
std::optional<Ask> draw_work_list(const WorkListView& view, WorkListInput& input, const Furniture& furniture);

/// The topics one below the other; name of the pressed calculation, or empty. `chosen` is marked.
std::string draw_topics(Pen& pen, const WorkListView& view, std::string_view chosen);

}  // namespace steep
