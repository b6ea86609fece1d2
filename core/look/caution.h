#pragma once
/// Cautions: Warn block with two answers, ask and confirm, rule lines, and small notes.

#include <span>
#include <string>
#include <string_view>

#include "look/button.h"
#include "look/choice.h"
#include "look/layout.h"

namespace steep {

/// Warn: `due` block with triangle, reason, and equal buttons below, each naming what it does.
struct Warn {
  std::string_view id = {};
  std::string_view first = {};             ///< 'N13 radish is to be picked Fri 7 am'
  std::string_view second = {};            ///< 'Sprayed now: no harvest until Fri 6:55 pm'
  std::string_view left = {}, right = {};  ///< 'Skip N13', 'Spray N13'; right may be empty.
};
/// −1 nothing, 0 left, 1 right.
int warn_block(Pen& pen, const Warn& warn);

/// A caution without answers, inside a card or bar (11: 'Brew 32: oxygen 5.2 mg/L', Open ›).
struct CautionLine {
  std::string_view id = {};
  std::string_view text = {};  ///< May have **bold** parts.
  std::string_view open = {};  ///< 'Open'; empty = can't be opened.
};
bool caution_line(Pen& pen, const CautionLine& line);

/// Scales sign, 'Record shows', then what each rule text shows; on well, no tick, no green.
struct RuleLine {
  std::string_view id = {};
  std::string_view head = {};               ///< 'Record shows'; may be empty.
  std::string_view text = {};               ///< May have **bold** parts; one paragraph.
  std::span<const std::string> lines = {};  ///< Or one line per rule text.
  std::string_view button = {};             ///< 'Set the farm's rule'; empty = the block opens the rule.
  bool opens = true;
  bool square = false;  ///< No rounded corners: inside a hold card.
};
enum class RuleEvent { None, Open, Button };
RuleEvent rule_line(Pen& pen, const RuleLine& rule);

/// What an Ask is about: two readings as large choices; draws into a Sheet's pen.
int ask(Pen& pen, std::string_view id, std::string_view question, std::span<const Choice> readings);

/// Confirm: the thing in words, reasons as chips and a field, two buttons; the safe one nearest the thumb.
struct Confirm {
  std::string_view id = {};
  std::string_view text = {};            ///< What will happen, in words; **bold** parts allowed.
  std::string_view reason_label = {};    ///< Empty = no reason asked.
  std::span<const Choice> reasons = {};  ///< Chips of the farm's usual ones; put into the field when pressed.
  std::string_view error = {};           ///< Of the reason.
  std::string_view go = {}, safe = {};   ///< 'Strike it', 'Keep it'
  bool can_go = true;
  std::string_view why_not = {};
};
/// −1 nothing, 0 safe, 1 go.
int confirm(Pen& pen, const Confirm& spec, std::string& reason);

/// A sentence in beet with '!': why the last thing asked for was refused. Nothing for an empty one.
void problem_line(Pen& pen, std::string_view sentence);
/// A small triangle and a sentence at the foot of a page (20).
void caution_note(Pen& pen, std::string_view text);
/// Grey or due sentence above the main button: '1 answer missing: weather'.
void missing_line(Pen& pen, std::string_view text);

/// One strong sentence, one line of why, the one button. True when pressed.
struct EmptyState {
  std::string_view id = {}, first = {}, why = {}, button = {};
  Icon icon = Icon::None;
};
bool empty_state(Pen& pen, const EmptyState& state);

/// Ink block above the bottom bar, for things that happened elsewhere; `until_s` on look_time's clock.
void toast(std::string_view text, double until_s);

}  // namespace steep
