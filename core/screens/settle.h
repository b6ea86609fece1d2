#pragma once
/// One record whose copies differ: a card for each fact, all versions whole, and the choice between them.

#include <string>
#include <vector>

#include "screens/asked.h"
#include "screens/page.h"

namespace steep {

struct SettleView {
  Id record;
  std::string kind;
  std::string title, second, same_head, reason_label, go, later, why_not, until;
  struct Version {
    Id copy;
    std::string whose, value, detail;
    bool operator==(const Version&) const = default;
  };
  struct Asked {  ///< One field of a value that is typed.
    std::string key, label;
    bool operator==(const Asked&) const = default;
  };
  struct FactShown {
    std::string group, fact, hangs, other;  ///< `other` empty: only the versions can be chosen.
    std::vector<Version> versions;
    std::vector<Asked> asked;
    std::string shown;  ///< What the book will show, as chosen now; empty = later.
    bool operator==(const FactShown&) const = default;
  };
  std::vector<FactShown> facts;
  std::vector<std::pair<std::string, std::string>> same;  ///< What is equal on all copies.
  std::vector<Id> sides;  ///< Copies with a version of every fact: 'all from Office' in one press.
  std::vector<std::string> side_texts;
  std::string side_head, shows_head, before, next, step;
  std::string nothing;     ///< Nothing differs any more.
  std::size_t chosen = 0;  ///< Facts that are decided.
  AskingView asking;
  UnitsShown units;
  Id farm;
  bool operator==(const SettleView&) const = default;
};

struct SettleInput : PageInput {
  std::vector<int> chosen;                      ///< One for each fact; −1 = later.
  std::vector<std::string> of;                  ///< The versions that stood there when it was chosen: others ask anew.
  std::vector<std::vector<std::string>> typed;  ///< Of another value, field by field.
  std::string reason;
  AskingInput asking;
  int at = 0;  ///< On a phone: the card in sight.
  bool operator==(const SettleInput&) const = default;
};

Result<SettleView> settle_of(const Surroundings& around, const Id& record, const SettleInput& input);
Result<SettleView> settle_view(const Surroundings& around, const SettleInput& input);
std::optional<Ask> draw_settle(const SettleView& view, SettleInput& input, const Furniture& furniture);

/// The cards and what stands below them; shared with the desktop's merge screen. `one` = a single card, by SettleInput::at.
std::optional<Ask> draw_settle_cards(Pen& pen, const SettleView& view, SettleInput& input, bool one);
std::optional<Ask> draw_settle_buttons(Pen& pen, const SettleView& view, SettleInput& input);

}  // namespace steep
