#include "look/button.h"

#include <algorithm>

#include "look/draw.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

struct Style {
  TextStyle text, second;
  float height, icon, across, radius, gap;
};

Style roomy_style(const ButtonSpec& spec) {
  switch (spec.kind) {
    case ButtonKind::Primary:
      return {TextStyle::Button, TextStyle::Label, size::kPrimary, 28, 12, size::kRadiusButton, 12};
    case ButtonKind::Done: return {TextStyle::L, TextStyle::Body, size::kDone, 48, 12, size::kRadiusGiant, 20};
    case ButtonKind::Quiet:
      return {TextStyle::SmallButton, TextStyle::Label, size::kSecondary, 24, 4, size::kRadiusButton, 6};
    default: return {TextStyle::SmallButton, TextStyle::Label, size::kSecondary, 24, 12, size::kRadiusButton, 9};
  }
}

/// The style in which the words fit into `width` on one line, if any does.
Style style_of(const ButtonSpec& spec, float width) {
  Style style = roomy_style(spec);
  const auto fits = [&] {
    const float icons = (spec.icon != Icon::None ? style.icon + style.gap : 0) +
                        (spec.icon_after != Icon::None ? style.icon + style.gap : 0);
    return text_width(style.text, spec.text) + icons + 2 * style.across <= width;
  };
  if (fits()) return style;
  style.gap = std::min(style.gap, 6.0f);
  style.across = std::min(style.across, 7.0f);
  if (!fits() && style.text == TextStyle::L) style.text = TextStyle::M;
  if (!fits() && style.text == TextStyle::Button) {
    style.text = TextStyle::SmallButton;
    if (!fits()) style.text = TextStyle::Button;  // Two lines anyway: then large ones.
  }
  return style;
}

/// The gap between icon and words, which gives way when the words are long.
float icon_room(const Style& style, Icon icon) { return icon == Icon::None ? 0 : style.icon + style.gap; }

/// Width and height of the words when they may take `room`; wraps to two lines where that helps.
struct Words3 {
  float width, text_height, height;
};
Words3 words_of(const ButtonSpec& spec, const Style& style, float room) {
  const float one = text_width(style.text, spec.text);
  const float text_height = one <= room ? line_height(style.text) : wrapped_height(room, style.text, spec.text);
  const float second = spec.second.empty() ? 0 : wrapped_height(room, style.second, spec.second);
  const float width = std::min(room, std::max(one, text_width(style.second, spec.second)));
  return {width, text_height, text_height + second};
}

struct Inks {
  Color fill, edge, text;
};
Inks inks_of(ButtonKind kind, bool enabled, bool down) {
  const Tokens& t = colors();
  Inks inks{t.surface, t.line, t.ink};
  if (kind == ButtonKind::Primary || kind == ButtonKind::Done) inks = {t.pri, t.priline, t.onpri};
  if (kind == ButtonKind::Filled) inks = {t.ink, t.ink, t.surface};
  if (kind == ButtonKind::Quiet) inks = {0, 0, t.ink};
  if (!enabled) return {kind == ButtonKind::Quiet ? 0 : t.surface, kind == ButtonKind::Quiet ? 0 : t.rule, t.ink2};
  if (!down) return inks;
  // Pressed: fill and text change places.
  if (kind == ButtonKind::Quiet) return {t.well, 0, t.ink};
  return {inks.text, inks.edge, kind == ButtonKind::Secondary ? t.surface : inks.fill};
}

float room_in(float width, const ButtonSpec& spec, const Style& style) {
  return width - 2 * style.across - icon_room(style, spec.icon) - icon_room(style, spec.icon_after);
}

std::string name_of(const ButtonSpec& spec) {
  std::string name = spoken_or(spec.spoken, {spec.text, spec.second});
  if (!spec.enabled && !spec.why_not.empty()) name = look_words()("look.not_now"_w, {name, std::string(spec.why_not)});
  return name;
}

}  // namespace

float button_width(const ButtonSpec& spec) {
  const Style style = roomy_style(spec);
  const float words = std::max(text_width(style.text, spec.text), text_width(style.second, spec.second));
  return words + 2 * style.across + icon_room(style, spec.icon) + icon_room(style, spec.icon_after);
}

float button_height(float width, const ButtonSpec& spec) {
  const Style style = style_of(spec, width);
  const Words3 words = words_of(spec, style, room_in(width, spec, style));
  return std::max(style.height, words.height + (spec.kind == ButtonKind::Done ? 24 : 14));
}

bool button(const Box& box, const ButtonSpec& spec) {
  const Style style = style_of(spec, box.width());
  const std::string name = name_of(spec);
  const Press hit = press({.id = item_id(spec.id),
                           .role = spec.file_pick ? Role::FilePick : Role::Button,
                           .name = name,
                           .enabled = spec.enabled,
                           .picks = spec.picks},
                          box);
  if (!is_visible(box)) return hit.pressed;
  const Inks inks = inks_of(spec.kind, spec.enabled, hit.down);
  if (inks.edge != 0)
    panel(box, inks.fill, inks.edge, spec.enabled ? size::kEdgePress : size::kEdgeGroup, style.radius);
  else if (inks.fill != 0)
    fill_box(box, inks.fill, style.radius);
  const Words3 words = words_of(spec, style, room_in(box.width(), spec, style));
  const float all = words.width + icon_room(style, spec.icon) + icon_room(style, spec.icon_after);
  float x = box.center().x - all / 2;
  const float middle = box.center().y;
  if (spec.icon != Icon::None) {
    draw_icon({x + style.icon / 2, middle}, style.icon, spec.icon, inks.text, inks.fill);
    x += icon_room(style, spec.icon);
  }
  // Words beside an icon are set left, alone they are centered.
  const bool left = spec.icon != Icon::None && !spec.second.empty();
  const Box first{x, middle - words.height / 2, x + words.width, middle - words.height / 2 + words.text_height};
  draw_wrapped(first, style.text, inks.text, spec.text, left ? Align::Left : Align::Center);
  if (!spec.second.empty())
    draw_wrapped({x, first.bottom, x + words.width, first.bottom}, style.second, inks.text, spec.second,
                 left ? Align::Left : Align::Center);
  if (spec.icon_after != Icon::None) {
    const float at = box.center().x + all / 2 - style.icon / 2;
    draw_icon({at, middle}, style.icon, spec.icon_after, inks.text, inks.fill);
  }
  if (hit.focused) focus_ring(box, style.radius);
  return hit.pressed;
}

bool button(Pen& pen, const ButtonSpec& spec) {
  const bool pressed = button(pen.take(button_height(pen.width(), spec)), spec);
  if (!spec.enabled && !spec.why_not.empty()) {
    pen.space(4);
    paragraph_in(pen, spec.why_not, TextStyle::Label, colors().ink2, Align::Center);
  }
  return pressed;
}

int buttons(Pen& pen, std::span<const ButtonSpec> specs, std::span<const float> shares, float gap) {
  static std::vector<float> parts;
  parts.assign(specs.size(), -1);
  for (std::size_t i = 0; i < std::min(shares.size(), parts.size()); ++i)
    parts[i] = shares[i] > 0 && shares[i] < 20 ? -shares[i] : shares[i];
  bool fit = true;
  float height = 0;
  const std::vector<Box> cells = columns(pen.here(0), parts, gap);
  for (std::size_t i = 0; i < specs.size(); ++i) {
    const Style style = style_of(specs[i], cells[i].width());
    const float room = room_in(cells[i].width(), specs[i], style);
    const float longest = longest_word(style.text, specs[i].text);
    const Words3 words = words_of(specs[i], style, room);
    fit = fit && longest <= room && words.text_height <= 2 * line_height(style.text) + 1;
    height = std::max(height, button_height(cells[i].width(), specs[i]));
  }
  int pressed = -1;
  const float top = pen.y;
  for (std::size_t i = 0; i < specs.size(); ++i) {
    if (fit) {
      if (button(cells[i].with_height(height), specs[i])) pressed = static_cast<int>(i);
      pen.y = top + height;
    } else {
      if (i > 0) pen.space(gap);
      if (button(pen.take(button_height(pen.width(), specs[i])), specs[i])) pressed = static_cast<int>(i);
    }
  }
  for (const ButtonSpec& spec : specs)
    if (!spec.enabled && !spec.why_not.empty()) {
      pen.space(4);
      paragraph_in(pen, spec.why_not, TextStyle::Label, colors().ink2, Align::Center);
    }
  return pressed;
}

int buttons(Pen& pen, std::initializer_list<ButtonSpec> specs, std::initializer_list<float> shares, float gap) {
  return buttons(pen, std::span<const ButtonSpec>(specs.begin(), specs.size()),
                 std::span<const float>(shares.begin(), shares.size()), gap);
}

bool icon_button(const Box& box, std::string_view id, Icon icon, std::string_view name, bool outlined, bool enabled) {
  const Tokens& t = colors();
  const Press hit = press({.id = item_id(id), .name = name, .enabled = enabled}, box);
  Color color = enabled ? t.ink : t.ink2;
  if (outlined) {
    panel(box, hit.down ? t.ink : t.surface, enabled ? t.line : t.rule, size::kEdgePress, size::kRadiusButton);
    if (hit.down) color = t.surface;
  } else if (hit.down) {
    fill_box(box, t.well, size::kRadiusButton);
  }
  draw_icon(box.center(), 24, icon, color);
  if (hit.focused) focus_ring(box.inset(2), size::kRadiusButton);
  return hit.pressed;
}

// --- The row of the pass

namespace {

/// Of a row: the largest in which every word fits its cell.
TextStyle pass_style(std::span<const PassButton> row, float cell) {
  for (const TextStyle style : {TextStyle::SmallButton, TextStyle::LabelStrong}) {
    const auto fits = [&](const PassButton& b) { return text_width(style, b.word) + 8 <= cell; };
    if (std::all_of(row.begin(), row.end(), fits)) return style;
  }
  return TextStyle::TickStrong;
}

bool pass_button(const Box& box, const PassButton& spec, TextStyle style) {
  const std::string name = spoken_or(spec.spoken, {spec.word, spec.second});
  const Press hit = press({.id = item_id(spec.id), .name = name, .enabled = spec.enabled}, box);
  const Inks inks = inks_of(ButtonKind::Secondary, spec.enabled, hit.down);
  panel(box, inks.fill, inks.edge, spec.enabled ? size::kEdgePress : size::kEdgeGroup, size::kRadiusButton);
  const float room = box.width() - 6;
  const float first = line_height(style), second = wrapped_height(room, TextStyle::Tick, spec.second);
  const float icon = 22, all = icon + first + second - 2;
  float y = box.center().y - all / 2;
  draw_icon({box.center().x, y + icon / 2}, icon, spec.icon, inks.text, inks.fill);
  y += icon;
  draw_text({box.left, y, box.right, y + first}, style, inks.text, spec.word, Align::Center);
  y += first - 2;
  draw_wrapped({box.left + 3, y, box.right - 3, y + second}, TextStyle::Tick, inks.text, spec.second, Align::Center);
  if (hit.focused) focus_ring(box, size::kRadiusButton);
  return hit.pressed;
}

}  // namespace

int pass_buttons(const Box& box, std::span<const PassButton> row) {
  static std::vector<float> parts;
  parts.assign(row.size(), -1);
  const std::vector<Box> cells = columns(box, parts, size::kTouchGap);
  const TextStyle style = cells.empty() ? TextStyle::SmallButton : pass_style(row, cells[0].width());
  int pressed = -1;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const std::size_t place = look().left_handed ? row.size() - 1 - i : i;
    const IdScope scope("pass");
    if (pass_button(cells[place], row[i], style)) pressed = static_cast<int>(i);
  }
  return pressed;
}

int pass_buttons(Pen& pen, std::span<const PassButton> four) {
  // A second row costs the page what it shows, so the words grow smaller first; then two rows of two.
  float widest = 0, second = 0;
  const float cell =
      (pen.width() - size::kTouchGap * static_cast<float>(four.size() - 1)) / static_cast<float>(four.size());
  const TextStyle style = pass_style(four, cell);
  for (const PassButton& b : four) {
    widest = std::max({widest, text_width(style, b.word), longest_word(TextStyle::Tick, b.second) + 4});
    second = std::max(second, wrapped_height(cell - 6, TextStyle::Tick, b.second));
  }
  const float height = std::max(size::kPassButton, line_height(TextStyle::SmallButton) + second + 32);
  if (widest + 8 <= cell || four.size() < 4) return pass_buttons(pen.take(height), four);
  const int upper = pass_buttons(pen.take(height), four.first(2));
  pen.space(size::kTouchGap);
  const int lower = pass_buttons(pen.take(height), four.subspan(2));
  return upper >= 0 ? upper : lower >= 0 ? lower + 2 : -1;
}

// --- Large choices

namespace {

/// Two strips: what each of two entries did.
void strips_picture(const Box& box, int which, Color ground) {
  const Tokens& t = colors();
  const float height = 19, gap = 5;
  const Box a = box_at(box.left, box.center().y - height - gap / 2, box.width(), height);
  const Box b = a.moved(0, height + gap);
  const auto strip = [&](const Box& s, float from, float to) {
    fill_box(s, t.surface);
    fill_box({s.left + s.width() * from, s.top, s.left + s.width() * to, s.bottom}, t.leaf);
    frame_end(s, 3, ground, t.line, 1.5f);
  };
  switch (which) {
    case 1:
      strip(a, 0, 1);
      strip(b, 0, 0);
      line({b.left + 5, b.center().y}, {b.right - 5, b.center().y}, t.ink2, 2);
      break;
    case 2:
      strip(a, 0, 0.5f);
      strip(b, 0.5f, 1);
      break;
    default: strip(a, 0, 1); strip(b, 0, 1);
  }
}

}  // namespace

bool big_choice(Pen& pen, const BigChoice& c) {
  const TextStyle first_style = c.primary ? TextStyle::Title : TextStyle::Strong;
  const float picture = c.strips > 0 ? 76 : 36, left = 18 + picture + (c.strips > 0 ? 16.0f : 14.0f);
  const float room = pen.width() - left - 14;
  const float first = wrapped_height(room, first_style, c.first),
              second = wrapped_height(room, TextStyle::Label, c.second);
  const float words = first + (c.second.empty() ? 0 : second);
  const Box box = pen.take(std::max(c.primary ? 104.0f : c.strips > 0 ? 71.0f : 83.0f, words + 28));
  pen.space(c.strips > 0 ? size::kCardGap : 12);
  const std::string name = spoken_or(c.spoken, {c.first, c.second});
  const Press hit = press(
      {.id = item_id(c.id), .role = c.file_pick ? Role::FilePick : Role::Button, .name = name, .enabled = c.enabled},
      box);
  if (!is_visible(box)) return hit.pressed;
  const Inks inks = inks_of(c.primary ? ButtonKind::Primary : ButtonKind::Secondary, c.enabled, hit.down);
  panel(box, inks.fill, inks.edge, size::kEdgePress, size::kRadiusGiant);
  const Box picture_box{box.left + 16, box.top, box.left + 16 + picture, box.bottom};
  if (c.strips > 0)
    strips_picture(picture_box, c.strips, inks.fill);
  else
    draw_icon(picture_box.center(), c.primary ? 34 : 30, c.icon, inks.text, inks.fill);
  const float top = box.center().y - words / 2;
  draw_wrapped({box.left + left, top, box.left + left + room, top + first}, first_style, inks.text, c.first);
  if (!c.second.empty())
    draw_wrapped({box.left + left, top + first, box.left + left + room, top + words}, TextStyle::Label, inks.text,
                 c.second);
  if (hit.focused) focus_ring(box, size::kRadiusGiant);
  return hit.pressed;
}

}  // namespace steep
