#pragma once
/// 'Work it out' beside the numbers that a page shows: the calculations that belong to it, opened on its record.

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "look/layout.h"
#include "screens/page.h"

namespace steep {

struct WorkLinks {
  struct Link {
    std::string name, title;
    bool operator==(const Link&) const = default;
  };
  std::string head;
  std::vector<Link> links;
  bool operator==(const WorkLinks&) const = default;
};

/// Names of calculations, in the order shown.
WorkLinks work_links(const Words& words, std::initializer_list<std::string_view> names);
/// `record`: what the inputs are known from; nil = nothing.
std::optional<Ask> draw_work_links(Pen& pen, const WorkLinks& links, const Id& record);

}  // namespace steep
