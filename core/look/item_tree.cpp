#include "look/item_tree.h"

#include <algorithm>

#include "base/text.h"

namespace steep {
namespace {

ItemTree* current_tree = nullptr;

template <class List>
bool take(List& list, std::uint32_t id) {
  const auto it = std::find_if(list.begin(), list.end(), [id](const auto& asked) { return asked.id == id; });
  if (it == list.end()) return false;
  list.erase(it);
  return true;
}

/// A request that nobody took for so many frames has lost its item: it goes. One frame brings a
/// clipped row into view, the next one draws it, the third is in reserve.
constexpr int kPatience = 3;
template <class List>
void age(List& list) {
  std::erase_if(list, [](auto& asked) { return ++asked.frames >= kPatience; });
}

bool has_name(const Item& item, std::string_view name) {
  constexpr std::string_view kMore = "…";
  if (name.size() >= kMore.size() && name.substr(name.size() - kMore.size()) == kMore) {
    const std::string_view start = name.substr(0, name.size() - kMore.size());
    return std::string_view(item.name).substr(0, start.size()) == start;
  }
  return item.name == name;
}

/// What is spoken is one line, whatever was drawn in several, or pasted.
std::string in_one_line(std::string name) {
  std::replace(name.begin(), name.end(), '\t', ' ');
  for (std::size_t at = name.find('\n'); at != std::string::npos; at = name.find('\n', at)) name.replace(at, 1, ", ");
  return name;
}

bool is_pressable(Role role) {
  switch (role) {
    case Role::Button:
    case Role::Tab:
    case Role::Choice:
    case Role::Check:
    case Role::Row:
    case Role::FilePick:
    case Role::Field: return true;
    case Role::Heading:
    case Role::Text:
    case Role::Dialog:
    case Role::Status:
    case Role::Alert: return false;
  }
  return false;
}

}  // namespace

void ItemTree::begin_frame() { building_.clear(); }

void ItemTree::end_frame() {
  age(presses_);
  age(typings_);
  age(reveals_);
  if (building_ == shown_) return;
  shown_.swap(building_);
  ++version_;
}

void ItemTree::add(Item item) {
  // Names come from files of others too: a mark that turns text around must not reach the page or a voice.
  item.name = in_one_line(printable(item.name));
  item.error = in_one_line(printable(item.error));
  building_.push_back(std::move(item));
}

bool ItemTree::press(std::uint32_t id) {
  for (const Item& item : shown_)
    if (item.id == id && id != 0 && item.enabled && is_pressable(item.role)) {
      // A row that lies outside the view is drawn first, then pressed: it has to be brought in.
      if (!item.drawn) reveals_.push_back({id});
      presses_.push_back({id});
      return true;
    }
  return false;
}

bool ItemTree::type(std::uint32_t id, std::string text, bool done) {
  for (const Item& item : shown_)
    if (item.id == id && item.enabled && item.role == Role::Field) {
      typings_.push_back({id, std::move(text), done});
      return true;
    }
  return false;
}

void ItemTree::reveal(std::uint32_t id) { reveals_.push_back({id}); }

bool ItemTree::take_press(std::uint32_t id) { return take(presses_, id); }
bool ItemTree::take_reveal(std::uint32_t id) { return take(reveals_, id); }

bool ItemTree::take_typing(std::uint32_t id, std::string& text, bool& done) {
  // Several may wait (fast typing between two frames): the last text counts, 'done' of any.
  bool found = false;
  done = false;
  for (auto it = typings_.begin(); it != typings_.end();) {
    if (it->id != id) {
      ++it;
      continue;
    }
    found = true;
    text = std::move(it->text);
    done = done || it->done;
    it = typings_.erase(it);
  }
  return found;
}

bool ItemTree::has_requests() const { return !presses_.empty() || !typings_.empty() || !reveals_.empty(); }

const Item* ItemTree::find(std::string_view name) const {
  for (const Item& item : shown_)
    if (has_name(item, name)) return &item;
  return nullptr;
}

const Item* ItemTree::find(Role role, std::string_view name) const {
  for (const Item& item : shown_)
    if (item.role == role && has_name(item, name)) return &item;
  return nullptr;
}

ItemTree& item_tree() {
  static ItemTree unowned;  // So that widgets drawn before an owner is set have somewhere to write.
  return current_tree ? *current_tree : unowned;
}
void set_item_tree(ItemTree* tree) { current_tree = tree; }

}  // namespace steep
