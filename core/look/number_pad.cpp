#include "look/number_pad.h"

#include <algorithm>
#include <array>

#include "base/text.h"
#include "look/button.h"
#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

constexpr std::size_t kMostDigits = 12;

struct KeyLook {
  std::string_view text;
  Icon icon = Icon::None;
  TextStyle style = TextStyle::M;
};

/// One key; quick presses count singly, so its guard is short.
bool key(const Box& box, std::string_view id, const KeyLook& k, std::string_view name, bool enabled = true) {
  const Tokens& t = colors();
  const Press hit = press({.id = item_id(id), .name = name, .enabled = enabled, .guard_s = size::kKeyBounce_s}, box);
  panel(box, hit.down ? t.ink : t.surface, enabled ? t.line : t.rule, size::kEdgePress, size::kRadiusButton);
  const Color color = hit.down ? t.surface : enabled ? t.ink : t.ink2;
  const float icon = k.icon == Icon::None ? 0 : 24, words = k.text.empty() ? 0 : text_width(k.style, k.text);
  const float all = icon + words + (icon > 0 && words > 0 ? 6 : 0);
  if (icon > 0)
    draw_icon({box.center().x - all / 2 + icon / 2, box.center().y}, k.text.empty() ? 28 : 22, k.icon, color);
  if (words > box.width() - 6) {
    const float high = wrapped_height(box.width() - 6, TextStyle::LabelStrong, k.text);
    draw_wrapped({box.left + 3, box.center().y - high / 2, box.right - 3, box.bottom}, TextStyle::LabelStrong, color,
                 k.text, Align::Center);
  } else if (words > 0) {
    draw_text({box.center().x + all / 2 - words, box.top, box.right, box.bottom}, k.style, color, k.text);
  }
  if (hit.focused) focus_ring(box.inset(3), 6);
  return hit.pressed;
}

/// Removes the last character, which may be several bytes.
void drop_last(std::string& text) {
  while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80) text.pop_back();
  if (!text.empty()) text.pop_back();
}

bool add_digit(std::string& text, char digit) {
  if (code_points(text) >= kMostDigits) return false;
  if (text == "0") text.clear();
  if (text == "-0") text = "-";
  text += digit;
  return true;
}

void value_line(Pen& pen, const NumberPad& spec, const std::string& typed) {
  const Tokens& t = colors();
  const float side =
      std::max(text_width(TextStyle::LabelStrong, spec.farm_figure), text_width(TextStyle::Label, spec.last));
  const std::string_view shown = typed.empty() ? std::string_view("–") : std::string_view(typed);
  const std::string_view unit = spec.units.empty() ? spec.unit : std::string_view();
  const float number = number_width(TextStyle::L, shown, TextStyle::Title, unit);
  const bool beside = side == 0 || number + 12 + side <= pen.width();
  const float start = pen.y;
  const Box row = pen.take(52);
  draw_number(row.left, row.bottom - 12, TextStyle::L, shown, TextStyle::Title, unit, t.ink);
  if (side > 0) {
    const float label = line_height(TextStyle::Label);
    const Box words =
        beside ? Box{row.left, row.bottom - 8 - 2 * label, row.right, row.bottom - 8} : pen.take(2 * label + 4);
    const Align align = beside ? Align::Right : Align::Left;
    draw_text(words.with_height(label), TextStyle::LabelStrong, t.ink, spec.farm_figure, align);
    draw_text({words.left, words.top + label, words.right, words.top + 2 * label}, TextStyle::Label, t.ink2, spec.last,
              align);
  }
  fill_box({pen.left, pen.y, pen.right, pen.y + 3}, t.ink);
  const std::string name = spoken(
      {spec.spoken, std::string(shown) + (unit.empty() ? "" : " ") + std::string(unit), spec.farm_figure, spec.last});
  add_text_item(item_id("value"), Role::Status, name, {pen.left, start, pen.right, pen.y});
  pen.space(3);
  if (!spec.error.empty()) {
    pen.space(4);
    const Box box = pen.take(wrapped_height(pen.width(), TextStyle::LabelStrong, spec.error));
    draw_wrapped(box, TextStyle::LabelStrong, t.beet, spec.error);
    add_text_item(item_id("error"), Role::Alert, spec.error, box);
  }
}

/// Physical keys work as well.
bool typed_on_keyboard(std::string& typed, char mark) {
  if (state().text_active || !state().look.native_text) return false;
  bool changed = false;
  for (const ImWchar c : ImGui::GetIO().InputQueueCharacters) {
    if (c >= '0' && c <= '9')
      changed = add_digit(typed, static_cast<char>(c)) || changed;
    else if ((c == '.' || c == ',') && typed.find_first_of(".,") == std::string::npos) {
      typed += typed.empty() ? std::string("0") + mark : std::string(1, mark);
      changed = true;
    }
  }
  if (ImGui::IsKeyPressed(ImGuiKey_Backspace) && !typed.empty()) {
    drop_last(typed);
    changed = true;
  }
  return changed;
}

constexpr std::array<float, 4> kKeyParts = {-1, -1, -1, -1.33f};

float key_height() { return std::max(size::kKey, line_height(TextStyle::SmallButton) + 32); }

ButtonSpec save_button(const NumberPad& spec) {
  return {.id = "save",
          .text = spec.save,
          .second = spec.save_second,
          .icon = Icon::Tick,
          .kind = ButtonKind::Primary,
          .enabled = spec.can_save,
          .why_not = spec.why_not};
}

bool not_taken_key(const Box& cell) {
  const std::string text = look_words()("look.not_taken"_w);
  return key(cell, "not-taken", {.text = text, .style = TextStyle::SmallButton}, text);
}
bool note_key(const Box& cell) {
  const std::string text = look_words()("look.note"_w);
  return key(cell, "note", {.text = text, .icon = Icon::Note, .style = TextStyle::SmallButton}, text);
}
/// Its sign stands small where it shares a cell.
void sign_key(const Box& cell, bool small, std::string& typed, NumberPadEvent& event) {
  KeyLook face{.text = "±"};
  if (small) face.style = TextStyle::Title;
  if (!key(cell, "sign", face, look_words()("look.sign"_w))) return;
  typed = typed.starts_with('-') ? typed.substr(1) : "-" + typed;
  event.changed = true;
}
void digit_key(const Box& cell, std::string_view digit, std::string& typed, NumberPadEvent& event) {
  if (key(cell, digit, {.text = digit}, look_words()("look.digit"_w, {digit})))
    event.changed = add_digit(typed, digit[0]) || event.changed;
}

/// In place of keys: words to choose from.
void word_part(Pen& pen, const NumberPad& spec, NumberPadEvent& event) {
  event.word = choice_cells(pen, "words", "", spec.words, spec.word_chosen, 2);
  pen.space(size::kTouchGap);
  const auto cells = columns(pen.take(key_height()), std::array<float, 2>{-1, -1}, size::kTouchGap);
  event.not_taken = spec.can_be_not_taken && not_taken_key(cells[0]);
  event.note = spec.note_key && note_key(cells[1]);
  pen.space(size::kTouchGap);
  event.saved = button(pen, save_button(spec));
}

/// 1 to 9, at their right what else is said of a number.
void digit_rows(Pen& pen, const NumberPad& spec, std::string& typed, NumberPadEvent& event) {
  static constexpr std::array<std::string_view, 9> kDigits = {"1", "2", "3", "4", "5", "6", "7", "8", "9"};
  for (std::size_t row = 0; row < 3; ++row) {
    const auto cells = columns(pen.take(key_height()), kKeyParts, size::kTouchGap);
    pen.space(size::kTouchGap);
    for (std::size_t i = 0; i < 3; ++i) digit_key(cells[i], kDigits[row * 3 + i], typed, event);
    if (row == 0) {
      if (key(cells[3], "backspace", {.text = {}, .icon = Icon::Backspace}, look_words()("look.backspace"_w)) &&
          !typed.empty()) {
        drop_last(typed);
        event.changed = true;
      }
    } else if (row == 1) {
      if (spec.can_be_not_taken)
        event.not_taken = not_taken_key(cells[3]);
      else if (spec.sign_key)
        sign_key(cells[3], false, typed, event);
    } else if (spec.note_key) {
      event.note = note_key(cells[3]);
    }
  }
}

/// Decimal mark, 0, and 'Save' over two columns and the gap between them.
void last_row(Pen& pen, const NumberPad& spec, std::string& typed, NumberPadEvent& event) {
  const auto above = columns(pen.here(key_height()), kKeyParts, size::kTouchGap);
  Box save_box{above[2].left, pen.y, above[3].right, pen.y};
  save_box.bottom = pen.y + std::max(key_height(), button_height(save_box.width(), save_button(spec)));
  Box mark_box = above[0];
  if (spec.sign_key && spec.can_be_not_taken) {  // The ± found no place above: it shares the mark's cell.
    const auto halves = columns(above[0], std::array<float, 2>{-1, -1}, 4);
    sign_key(halves[0], true, typed, event);
    mark_box = halves[1];
  }
  mark_box.bottom = save_box.bottom;
  const char mark_text[2] = {spec.mark, 0};
  const bool may_stand = typed.find_first_of(".,") == std::string::npos && code_points(typed) < kMostDigits;
  if (key(mark_box, "mark", {.text = mark_text}, look_words()("look.decimal_mark"_w)) && may_stand) {
    typed += typed.empty() || typed == "-" ? std::string("0") + spec.mark : std::string(1, spec.mark);
    event.changed = true;
  }
  digit_key({above[1].left, above[1].top, above[1].right, save_box.bottom}, "0", typed, event);
  event.saved = button(save_box, save_button(spec));
  pen.y = save_box.bottom;
}

}  // namespace

NumberPadEvent number_pad(Pen& pen, const NumberPad& spec, std::string& typed) {
  const IdScope scope(spec.id);
  NumberPadEvent event;
  if (!spec.kinds.empty()) {
    event.kind = choice_cells(pen, "kinds", "", spec.kinds, spec.kind, 3);
    pen.space(6);
  }
  const bool keys = spec.words.empty();
  if (keys) {
    value_line(pen, spec, typed);
    if (!spec.units.empty()) {
      pen.space(8);
      event.unit = segmented(pen, "units", "", spec.units, spec.unit_chosen);
    }
    event.changed = typed_on_keyboard(typed, spec.mark);
  } else if (!spec.last.empty() || !spec.farm_figure.empty()) {
    pen.space(4);
    heading_with_note(pen, spec.farm_figure, spec.last, TextStyle::LabelStrong);
  }
  pen.space(9);
  if (!keys) {
    word_part(pen, spec, event);
    return event;
  }
  digit_rows(pen, spec, typed, event);
  last_row(pen, spec, typed, event);
  if (!spec.can_save && !spec.why_not.empty()) {
    pen.space(4);
    paragraph_in(pen, spec.why_not, TextStyle::Label, colors().ink2, Align::Center);
  }
  return event;
}

}  // namespace steep
