#include "look/screen.h"

#include <algorithm>

#include "look/button.h"
#include "look/draw.h"
#include "look/frame_state.h"
#include "look/sheet.h"

namespace steep {

using namespace look_state;

// --- Parts

ScreenPart::ScreenPart(std::string_view id, const Box& area, Kind kind, float margin, float above, float below,
                       Color ground)
    : id_(item_id(id)), area_(area), kind_(kind), below_(below) {
  state().grounds.push_back(ground);
  if (kind == Kind::Scrolls) {
    scroll_.emplace(id, area, margin, above, below);
  } else {
    pen_ = Pen(area.left + margin, area.right - margin, area.top + above);
  }
}

ScreenPart::~ScreenPart() {
  state().grounds.pop_back();
  if (kind_ != Kind::Foot) return;
  float& measured = state().measured[id_];
  const float height = pen_.y - area_.top + below_;
  if (std::abs(measured - height) > 0.5f) want_frame();
  measured = height;
}

// --- The screen

namespace {

constexpr float kMarkGap = 8, kArrow = 38;

/// Large where it fits on one line; a long title becomes smaller before it wraps.
TextStyle title_style(const ScreenSpec& spec, float room) {
  const TextStyle large = spec.first_of_tab || look().wide_rail() ? TextStyle::FirstTitle : TextStyle::Title;
  return text_width(large, spec.title) <= room ? large : TextStyle::Strong;
}
TextStyle second_style(const ScreenSpec& spec, float room) {
  return text_width(TextStyle::Label, spec.second) <= room ? TextStyle::Label : TextStyle::Tick;
}

}  // namespace

Screen::Screen(const ScreenSpec& spec) : spec_(spec) {
  state().ids.push_back(item_id(spec.id));
  lay_out();
  if (spec_.back && state().sheet_before == 0 && key_pressed(LookKey::Escape)) back_ = true;
}

Screen::~Screen() {
  // What was not drawn takes no room in the next frame.
  for (const auto& [drawn, id] : {std::pair{drew_actions_, "actions"}, std::pair{drew_right_foot_, "right-foot"}}) {
    float& height = state().measured[item_id(id)];
    if (!drawn && height != 0) {
      height = 0;
      want_frame();
    }
  }
  state().ids.pop_back();
}

void Screen::lay_out() {
  const Look& l = look();
  Box rest{l.safe.left, l.safe.top, l.width - l.safe.right, l.height};
  column_ = l.screen() == ScreenClass::Landscape && !spec_.bare;
  if (column_) return lay_out_lying(rest);

  if (spec_.tabs && l.wide_rail()) {
    const Box side{0, 0, l.safe.left + size::kRail, l.height};
    rail(side, true);
    rest.left = side.right;
  }
  if (!spec_.bare) lay_out_top_bar(rest);
  lay_out_bands(rest);
  float below = l.safe.bottom;
  if (spec_.tabs && !l.wide_rail()) {
    const Box bar{0, l.height - size::kBottomBar - l.safe.bottom, l.width, l.height};
    bottom_bar(bar);
    rest.bottom = bar.top - 1;  // The line's upper half is the bar's.
    below = 0;
  }
  if (l.screen() >= ScreenClass::Tablet) lay_out_panels(rest);
  const float foot = state().measured[item_id("actions")];
  action_ = {rest.left, rest.bottom - foot, rest.right, rest.bottom};
  if (foot > 0) {
    fill_box(action_, colors().surface);
    rest.bottom = action_.top - 1;
    line({action_.left, action_.top}, {action_.right, action_.top}, colors().line, 2);
  } else {
    rest.bottom -= below;
  }
  main_ = rest;
}

/// The thumb's column on the hand's side, the rail on the other.
void Screen::lay_out_lying(Box rest) {
  const Look& l = look();
  if (spec_.tabs) {
    const float width = size::kRailLandscape;
    const Box side =
        l.left_handed ? Box{rest.right - width, 0, l.width, l.height} : Box{0, 0, rest.left + width, l.height};
    rail(side, false);
    (l.left_handed ? rest.right : rest.left) = l.left_handed ? side.left : side.right;
  }
  if (state().measured[item_id("actions")] > 0) {
    const float width = std::min(size::kActionColumn * std::min(1.0f, rest.width() / 760), rest.width() * 0.45f);
    action_ = l.left_handed ? Box{0, 0, rest.left + width, l.height} : Box{rest.right - width, 0, l.width, l.height};
    fill_box(action_, colors().surface);
    const float x = l.left_handed ? action_.right : action_.left;
    line({x, 0}, {x, l.height}, colors().line, 2);
    (l.left_handed ? rest.left : rest.right) = x;
  }
  main_ = rest;
  lying_head();
}

void Screen::lay_out_top_bar(Box& rest) {
  const Look& l = look();
  const float mark = spec_.has_saved ? saved_mark_width(spec_.saved, l.narrow()) + kMarkGap : 0;
  const float corner = spec_.corner != Icon::None ? size::kTouch + kMarkGap : 0;
  const float room = rest.width() - 2 * l.margin() - mark - corner - (spec_.back ? kArrow : 0);
  const float title = wrapped_height(room, title_style(spec_, room), spec_.title);
  const float second =
      spec_.second.empty() || l.wide_rail() ? 0 : wrapped_height(room, second_style(spec_, room), spec_.second);
  const float height = std::max(size::kTopBar, title + second + 16);
  top_bar({rest.left, 0, rest.right + l.safe.right, rest.top + height});
  rest.top += height + 2;
}

/// 'Not saved', and the standing caution.
void Screen::lay_out_bands(Box& rest) {
  if (spec_.saved.state == SavedState::NotSaved && spec_.has_saved && !spec_.not_saved_text.empty()) {
    Pen pen(rest);
    try_again_ = not_saved_band(pen, spec_.not_saved_text) || try_again_;
    rest.top = pen.y;
  }
  if (!spec_.band) return;
  const float height = tape_band_height(*spec_.band, rest.width());
  band_ = draw_tape_band({rest.left, rest.top - 2, rest.right, rest.top - 2 + height}, *spec_.band);
  rest.top += height - 2;
}

/// Of wide screens.
void Screen::lay_out_panels(Box& rest) {
  const Tokens& t = colors();
  if (spec_.left_panel > 0) {
    left_ = {rest.left, rest.top, rest.left + spec_.left_panel, rest.bottom};
    fill_box(left_, t.surface);
    line({left_.right, left_.top}, {left_.right, left_.bottom}, t.line, 2);
    rest.left = left_.right + 1;
  }
  if (spec_.right_panel > 0) {
    right_ = {rest.right - spec_.right_panel, rest.top, rest.right, rest.bottom};
    fill_box(right_, t.surface);
    line({right_.left, right_.top}, {right_.left, right_.bottom}, t.line, 2);
    rest.right = right_.left - 1;
    right_foot_ = {right_.left, right_.bottom - state().measured[item_id("right-foot")], right_.right, right_.bottom};
    right_.bottom = right_foot_.top;
  }
}

void Screen::top_bar(const Box& box) {
  const Look& l = look();
  const Tokens& t = colors();
  fill_box(box, t.surface);
  line({box.left, box.bottom + 1}, {box.right, box.bottom + 1}, t.line, 2);
  const Box bar{box.left + l.margin(), l.safe.top, box.right - l.safe.right - l.margin(), box.bottom};
  float left = bar.left, right = bar.right;
  const float middle = bar.center().y;
  if (spec_.back) {
    const Box arrow{left - 12, middle - 24, left + 36, middle + 24};
    const std::string name = spec_.back_to.empty() ? look_words()("look.back"_w) : std::string(spec_.back_to);
    back_ = icon_button(arrow, "back", Icon::ArrowLeft, name);
    left += kArrow;
  }
  if (spec_.corner != Icon::None) right -= size::kTouch + kMarkGap;
  const float mark = spec_.has_saved ? saved_mark_width(spec_.saved, l.narrow()) : 0;
  const float room = right - left - (mark > 0 ? mark + kMarkGap : 0);
  const TextStyle style = title_style(spec_, room);
  const float title = wrapped_height(room, style, spec_.title);
  if (l.wide_rail()) {
    draw_wrapped({left, middle - title / 2, left + room, middle + title / 2}, style, t.ink, spec_.title);
    const float x = left + text_width(style, spec_.title) + 14;
    draw_text_on(x, baseline_in({0, middle - title / 2, 0, middle + title / 2}, style), TextStyle::Body, t.ink2,
                 spec_.second);
  } else {
    const float second = spec_.second.empty() ? 0 : wrapped_height(room, second_style(spec_, room), spec_.second);
    const float top = middle - (title + second) / 2;
    draw_wrapped({left, top, left + room, top + title}, style, t.ink, spec_.title);
    if (second > 0)
      draw_wrapped({left, top + title, left + room, top + title + second}, second_style(spec_, room), t.ink2,
                   spec_.second);
  }
  add_text_item(item_id("title"), Role::Heading, spec_.title, {left, bar.top, left + room, middle});
  if (!spec_.second.empty())
    add_text_item(item_id("second"), Role::Text, spec_.second, {left, middle, left + room, bar.bottom});
  if (spec_.has_saved)
    try_again_ = draw_saved_mark({right - mark, bar.top, right, bar.bottom}, spec_.saved, l.narrow());
  if (spec_.corner != Icon::None)
    corner_ = icon_button({bar.right - size::kTouch, middle - size::kTouch / 2, bar.right, middle + size::kTouch / 2},
                          "corner", spec_.corner, spec_.corner_name, true);
}

void Screen::lying_head() {
  // No bar: title and second line stand on the page, the mark over the thumb's column.
  const Look& l = look();
  const Tokens& t = colors();
  const float margin = l.margin();
  float left = main_.left + margin, right = main_.right - margin;
  const float top = l.safe.top + 4,
              height = std::max(48.0f, line_height(TextStyle::Title) + line_height(TextStyle::Label) + 2);
  const float middle = top + height / 2;
  if (spec_.back) {
    const std::string name = spec_.back_to.empty() ? look_words()("look.back"_w) : std::string(spec_.back_to);
    back_ = icon_button({left - 12, middle - 24, left + 36, middle + 24}, "back", Icon::ArrowLeft, name);
    left += kArrow;
  }
  const bool mark_here = spec_.has_saved && action_.empty();
  if (spec_.corner != Icon::None) {
    corner_ = icon_button({right - size::kTouch, middle - 24, right, middle + 24}, "corner", spec_.corner,
                          spec_.corner_name, true);
    right -= size::kTouch + kMarkGap;
  }
  if (mark_here) {
    const float mark = saved_mark_width(spec_.saved, false);
    try_again_ = draw_saved_mark({right - mark, top, right, top + height}, spec_.saved);
    right -= mark + kMarkGap;
  }
  draw_text({left, top, right, top + line_height(TextStyle::Title)}, TextStyle::Title, t.ink, spec_.title);
  draw_text({left, top + line_height(TextStyle::Title) - 2, right, top + height}, TextStyle::Label, t.ink2,
            spec_.second);
  add_text_item(item_id("title"), Role::Heading, spec_.title, {left, top, right, middle});
  if (!spec_.second.empty())
    add_text_item(item_id("second"), Role::Text, spec_.second, {left, middle, right, top + height});
  if (spec_.has_saved && !action_.empty()) {
    const Box row{action_.left + margin, l.safe.top + 8, action_.right - margin - l.safe.right, l.safe.top + 56};
    try_again_ = draw_saved_mark(row, spec_.saved, false, true);
    beside_mark_ = {row.left + saved_mark_width(spec_.saved, false) + 24, row.top, row.right, row.bottom};
  }
  main_.top = top + height + 2;
  if (spec_.saved.state == SavedState::NotSaved && spec_.has_saved && !spec_.not_saved_text.empty()) {
    Pen pen(main_);
    try_again_ = not_saved_band(pen, spec_.not_saved_text) || try_again_;
    main_.top = pen.y;
  }
  if (spec_.band) {
    const float band = tape_band_height(*spec_.band, main_.width());
    band_ = draw_tape_band({main_.left, main_.top, main_.right, main_.top + band}, *spec_.band);
    main_.top += band;
  }
}

// --- Tabs

bool Screen::tab_item(const Box& box, std::size_t index, bool in_rail) {
  const Tokens& t = colors();
  const Tab& tab = spec_.tabs->tabs[index];
  const bool on = static_cast<int>(index) == spec_.tabs->current;
  const IdScope scope("tab");
  const Press hit = press(
      {.id = item_id(tab.word), .role = Role::Tab, .name = tab.spoken.empty() ? tab.word : tab.spoken, .on = on}, box);
  const Box block = in_rail ? box.inset(8, 2) : box.inset(3, 6);
  const bool filled = on != hit.down;
  if (filled) fill_box(block, t.ink, in_rail ? 6.0f : size::kRadiusCard);
  const Color color = filled ? t.surface : t.ink;
  const float icon = in_rail ? 24 : 26, line = line_height(TextStyle::Tick);
  const float top = block.center().y - (icon + line) / 2;
  const Point center{block.center().x, top + icon / 2};
  draw_icon(center, icon, tab.icon, color);
  const TextStyle style = TextStyle::TickStrong;
  draw_text({block.left, top + icon, block.right, top + icon + line}, style, color, tab.word, Align::Center);
  if (tab.count > 0) {
    const std::string count = std::to_string(tab.count);
    const float width = text_width(TextStyle::TickStrong, count) + 12;
    const float badge_left = std::min(center.x + 9, box.right - std::max(20.0f, width) - 2);  // Within the bar.
    const Box badge = box_at(badge_left, top - 7, std::max(20.0f, width), 20);
    panel(badge, t.due, t.line, 1.5f, 4);
    draw_text(badge, TextStyle::TickStrong, t.ondue, count, Align::Center);
  }
  if (hit.focused) focus_ring(block.inset(4), 6);
  return hit.pressed;
}

void Screen::bottom_bar(const Box& box) {
  const Tokens& t = colors();
  fill_box(box, t.surface);
  line({box.left, box.top}, {box.right, box.top}, t.line, 2);
  const auto count = std::min(spec_.tabs->tabs.size(), static_cast<std::size_t>(spec_.tabs->bottom_count));
  const float side = 3, width = (box.width() - 2 * side) / static_cast<float>(std::max<std::size_t>(1, count));
  for (std::size_t i = 0; i < count; ++i) {
    const float left = box.left + side + width * static_cast<float>(i);
    if (tab_item({left, box.top + 1, left + width, box.top + size::kBottomBar}, i, false)) tab_ = static_cast<int>(i);
  }
}

void Screen::rail(const Box& box, bool words) {
  const Tokens& t = colors();
  const Look& l = look();
  fill_box(box, t.surface);
  const bool at_left = box.left <= 0;
  const float x = at_left ? box.right : box.left;
  line({x, box.top}, {x, box.bottom}, t.line, 2);
  const std::size_t all = spec_.tabs->tabs.size();
  const std::size_t count = words ? all : std::min(all, static_cast<std::size_t>(spec_.tabs->bottom_count));
  const std::size_t upper =
      words && spec_.tabs->foot >= 0 ? std::min(count, static_cast<std::size_t>(spec_.tabs->foot)) : count;
  const Box inner{box.left + (at_left ? l.safe.left : 0), box.top + l.safe.top,
                  box.right - (at_left ? 0 : l.safe.right), box.bottom - l.safe.bottom};
  float y = inner.top + 4;
  if (words) {
    draw_icon({inner.center().x, inner.top + 40}, 52, Icon::Mark, t.ink);
    y = inner.top + 78;
  }
  const float left_over = inner.bottom - y - 4;
  const float pitch = std::min(74.0f, left_over / static_cast<float>(std::max<std::size_t>(1, count)));
  for (std::size_t i = 0; i < count; ++i) {
    const float top =
        i < upper ? y + pitch * static_cast<float>(i) : inner.bottom - 6 - pitch * static_cast<float>(count - i);
    if (tab_item({inner.left, top, inner.right, top + pitch}, i, true)) tab_ = static_cast<int>(i);
  }
}

// --- Parts of the screen

ScreenPart Screen::main() {
  const Look& l = look();
  const float cover = l.screen() == ScreenClass::Phone ? std::max(0.0f, sheet_cover() - (l.height - main_.bottom)) : 0;
  Box area = main_;
  const float margin = l.margin();
  // On very wide screens the content ends at 1600; maps and tables ask for more themselves.
  if (spec_.scrolls && area.width() > size::kContentEnd) area.right = area.left + size::kContentEnd;
  return ScreenPart("main", area, spec_.scrolls ? ScreenPart::Kind::Scrolls : ScreenPart::Kind::Still, margin, 10,
                    16 + cover, colors().ground);
}
ScreenPart Screen::left() {
  return ScreenPart("left", left_, ScreenPart::Kind::Scrolls, look().margin(), 12, 12, colors().surface);
}
ScreenPart Screen::right() {
  return ScreenPart("right", right_, ScreenPart::Kind::Scrolls, 22, 16, 12, colors().surface);
}
ScreenPart Screen::right_foot() {
  drew_right_foot_ = true;
  return ScreenPart("right-foot", right_foot_, ScreenPart::Kind::Foot, 22, 10, 18, colors().surface);
}

ScreenPart Screen::actions(float most) {
  drew_actions_ = true;
  const Look& l = look();
  if (column_) {
    Box area = action_.empty() ? Box{main_.right, 0, main_.right + size::kActionColumn, l.height} : action_;
    // At the foot, where the thumb is; as high as what stood there in the frame before.
    area.top += spec_.has_saved ? 54.0f : 0.0f;
    const float needed = state().measured[item_id("actions")];
    if (needed > 0) area.top = std::max(area.top, area.bottom - needed);
    return ScreenPart("actions", area, ScreenPart::Kind::Foot, l.margin(), 12, 12, colors().surface);
  }
  const bool bars_below = spec_.tabs && !l.wide_rail();
  const float margin = std::max(l.margin(), (action_.width() - scaled(most)) / 2);
  return ScreenPart("actions", action_, ScreenPart::Kind::Foot, margin, 10, 10 + (bars_below ? 0 : l.safe.bottom),
                    colors().surface);
}

}  // namespace steep
