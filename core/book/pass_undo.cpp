// The last press of a pass taken back.
#include "book/pass_commands.h"
#include "book/pass_parts.h"
#include "book/saves.h"
#include "book/spelled.h"

namespace steep {
namespace {

struct ActOf {
  Id lane;
  std::int64_t act = 0;
  bool operator==(const ActOf&) const = default;
};

Result<ActOf> act_of(const Book& book, const Id& record) {
  TRY_ASSIGN(const std::vector<HistoryLine>& lines, book.history(record));
  if (lines.empty()) return ActOf{};
  return ActOf{lines.front().change.lane, lines.front().change.act};
}

Result<void> add_strike(const Book& book, const Id& record, std::vector<Save>& saves) {
  TRY_ASSIGN(Save save, change_save(book, record, {text_field_value("struck", std::string(kUndone))}));
  saves.push_back(std::move(save));
  return {};
}

/// A refill taken back: the new load goes, the load before is open again, the stretch it wrote too.
Result<void> add_refill_undo(const Book& book, const PassState& state, const LastPress& press,
                             std::vector<Save>& saves) {
  TRY(add_strike(book, press.record, saves));
  TRY_ASSIGN(const std::vector<LoadLine>& lines, load_lines(book, press.record));
  for (const LoadLine& line : lines) TRY(add_strike(book, line.id, saves));
  TRY_ASSIGN(const ActOf& act, act_of(book, press.record));
  for (const LoadSheet& sheet : state.loads) {
    if (sheet.load.number != press.load_number - 1) continue;
    TRY_ASSIGN(Save open, change_save(book, sheet.load.id, {not_taken("closed"), not_taken("left")}));
    saves.push_back(std::move(open));
    for (const Dose& dose : sheet.doses) {
      TRY_ASSIGN(const ActOf& other, act_of(book, dose.id));
      if (other == act) TRY(add_strike(book, dose.id, saves));
    }
  }
  return {};
}

}  // namespace

Result<Outcome> undo_press(Book& book, const Id& pass, const Going& going) {
  TRY_ASSIGN(const PassState& state, pass_state(book, pass, {}, book.now().at));
  if (state.is_ended) return refuse(Trouble::BadInput, "pass.ended"_w, {code_value_text("pass", state.code)});
  TRY_ASSIGN(const std::optional<LastPress>& press, last_press(book, pass));
  Outcome nothing;
  if (!press) return nothing;
  std::vector<Save> saves;
  if (press->is_refill) {
    TRY(add_refill_undo(book, state, *press, saves));
  } else {
    // One press may have written several stretches of a bed: they go together.
    TRY_ASSIGN(const ActOf& act, act_of(book, press->record));
    for (const LoadSheet& sheet : state.loads)
      for (const Dose& dose : sheet.doses) {
        if (dose.id != press->record && dose.bed != press->bed) continue;
        TRY_ASSIGN(const ActOf& other, act_of(book, dose.id));
        if (other == act) TRY(add_strike(book, dose.id, saves));
      }
  }
  TRY_ASSIGN(Save count, change_save(book, pass, {number_value("undone", std::to_string(state.pass.undone + 1))}));
  saves.push_back(std::move(count));
  return write_with(book, std::move(saves), press->record, {}, going);
}

}  // namespace steep
