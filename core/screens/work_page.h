#pragma once
/// 'Work it out': one calculation of the trade with its inputs, its answer, how it came about, and where it can go.
///
/// Drawn from the calculation's own specs (trade/calculation.h): a new one appears here by itself. On wide
/// screens the list of all stands at the left and the answer at the right.

#include <string>
#include <vector>

#include "screens/amount_sheet.h"
#include "screens/page.h"
#include "screens/work_list.h"
#include "screens/work_result.h"
#include "screens/work_uses.h"

namespace steep {

struct WorkPageView {
  struct Word {
    std::string key, text;
    bool operator==(const Word&) const = default;
  };
  /// One field: an input, or a cell of a row.
  struct Cell {
    const InputSpec* spec = nullptr;
    std::string key, label, value, hint, unit, error;
    std::vector<const Unit*> units;  ///< Of the number pad.
    FieldKind kind = FieldKind::Text;
    int max_length = 60;
    std::vector<Word> words;  ///< Choices instead of a field.
    int chosen = -1;
    std::string pad;             ///< Spoken name of the number pad's button; empty = none.
    std::vector<Word> readings;  ///< Which one was meant; the text to put in and its words.
    std::string which;
    std::string now, now_text;  ///< 'Now', and what it puts in.
    std::string in_own_units;   ///< '68 °F (20 °C)' where another unit was typed.
    bool operator==(const Cell&) const = default;
  };
  struct Item {
    std::vector<Cell> cells;
    bool operator==(const Item&) const = default;
  };
  struct Group {
    const InputSpec* spec = nullptr;
    std::string label;  ///< Of rows and of what may be given more than once.
    std::vector<Item> items;
    std::string add, remove;  ///< Empty = one only.
    bool operator==(const Group&) const = default;
  };

  std::string name;  ///< Of the calculation.
  std::string title, second, given_head;
  std::vector<Group> groups;
  std::string problem, missing;  ///< Why there is no answer.
  std::string answer_head;
  std::optional<WorkAnswer> answer;
  std::vector<WorkUse> uses;  ///< Not compared.
  std::string example, start_over;
  DraftFields known, example_form;
  WorkListView list;  ///< Of all, for wide screens.
  std::string close;
  UnitsShown units;
  Words words = Words(Language::English);
  bool operator==(const WorkPageView& other) const {
    return title == other.title && groups == other.groups && problem == other.problem && missing == other.missing &&
           answer == other.answer;
  }
};

struct WorkPageInput : PageInput {
  DraftFields form;   ///< Keys as in work_form.h.
  DraftFields known;  ///< What the book put in: no draft as long as it stands so.
  bool opened = false;
  std::string editing;  ///< The cell with the caret: its error waits until it is left.
  AmountTyping typing;
  std::string open_line;  ///< Result whose formula is open.
  std::string open_use;   ///< Use whose list is open.
  bool operator==(const WorkPageInput&) const = default;
};
DraftFields draft_fields(const WorkPageInput& input);
void from_draft(WorkPageInput& input, const DraftFields& fields);

Result<WorkPageView> work_page_view(const Surroundings& around, const WorkPageInput& input);
std::optional<Ask> draw_work_page(const WorkPageView& view, WorkPageInput& input, const Furniture& furniture);

/// The fields of all groups.
void draw_work_fields(Pen& pen, const WorkPageView& view, WorkPageInput& input);
/// How a line of an answer came about: a sheet with formula, numbers, source, limits. True when it was closed.
bool draw_formula(const WorkAnswer& answer, const WorkAnswer::Line& line);
/// Ledger, cautions, notes. The name of a pressed line goes into the input.
void draw_work_answer(Pen& pen, const WorkPageView& view, WorkPageInput& input);

}  // namespace steep
