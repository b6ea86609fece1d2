#pragma once
/// 'Same bed, twice?': two entries, one bed, overlapping time; three answers.

#include <optional>
#include <string>
#include <vector>

#include "book/same_bed.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"

namespace steep {

struct TwiceView {
  Id first, second;
  std::string title, line;
  struct Entry {
    std::string head, detail, volume, tea, name;
    double start_min = 0, finish_min = 0;  ///< On the axis of the figure.
    bool operator==(const Entry&) const = default;
  };
  Entry entries[2];
  std::string both_at;
  double from_min = 0, to_min = 1;
  std::vector<std::pair<double, std::string>> ticks;
  std::string overlap_spoken;
  bool holds = false, no_entry = false;  ///< Something holds now; people too are kept out.
  std::string held, held_text;
  struct Answer {
    std::string first, second;
    bool operator==(const Answer&) const = default;
  };
  Answer answers[3];
  std::string later, note, problem;
  // Which one is kept; where they met.
  std::string keep_title, met_title, met_go, met_label, met_value, met_unit, met_spoken, first_side, note_title,
      note_label, note_save;
  std::string keep[2], sides[2];
  Written met, length;
  UnitsShown units;
  bool operator==(const TwiceView& other) const {
    return title == other.title && line == other.line && held_text == other.held_text;
  }
};

struct TwiceInput : PageInput {
  std::string sheet;      ///< 'keep', 'met', 'note'; empty = none.
  std::string met, note;  ///< `met` in normal form.
  bool first_at_zero = true;
  AmountTyping typing;
  bool operator==(const TwiceInput&) const = default;
};

Result<TwiceView> twice_view(const Surroundings& around, const TwiceInput& input);
std::optional<Ask> draw_twice(const TwiceView& view, TwiceInput& input, const Furniture& furniture);

}  // namespace steep
