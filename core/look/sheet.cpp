#include "look/sheet.h"

#include <algorithm>

#include "look/button.h"
#include "look/caution.h"
#include "look/draw.h"
#include "look/frame_state.h"
#include "look/motion.h"

namespace steep {

using namespace look_state;

namespace {

constexpr float kLine = 3, kHeadDown = 14, kNoteIcon = 26;

/// Where the sheet lies when it is wholly up, for its content's height of the last frame.
Box resting_place(float content) {
  const Look& l = look();
  if (l.screen() == ScreenClass::Phone) {
    const float most = l.height - l.safe.top - 56;
    return {0, l.height - std::min(content, most), l.width, l.height};
  }
  const float width = std::min(size::kSheetPanel, l.width * 0.6f);
  return l.left_handed ? Box{0, 0, width, l.height} : Box{l.width - width, 0, l.width, l.height};
}

bool is_panel() { return look().screen() != ScreenClass::Phone; }

void draw_ground(const Box& box) {
  const Tokens& t = colors();
  if (is_panel()) {
    fill_box(box, t.surface);
    const float x = look().left_handed ? box.right : box.left;
    line({x, box.top}, {x, box.bottom}, t.ink, kLine);
    return;
  }
  // Upper corners rounded, the ink line follows them.
  ImDrawList* list = draw_list();
  const Box b = snap(box);
  list->AddRectFilled(top_left(b), {b.right, b.bottom + size::kRadiusSheet}, t.ink, size::kRadiusSheet,
                      ImDrawFlags_RoundCornersTop);
  list->AddRectFilled({b.left, b.top + kLine}, {b.right, b.bottom + size::kRadiusSheet}, t.surface, size::kRadiusSheet,
                      ImDrawFlags_RoundCornersTop);
}

/// The box on its way up from the edge; `content` as high as in the last frame, 0 = not yet known.
Box rising_box(std::uint32_t glide, float content) {
  const Box rest = resting_place(content);
  const float up = content > 0 ? moving_from(glide, 0, 1, kSheetMotion_s) : 0;
  if (!is_panel()) return rest.moved(0, (1 - up) * rest.height());
  return rest.moved((1 - up) * rest.width() * (look().left_handed ? -1.0f : 1.0f), 0);
}

/// The note at the right of the title, its bold parts in ink.
void draw_note(const SheetSpec& spec, const Box& where) {
  const Tokens& t = colors();
  const float icon = spec.note_icon == Icon::None ? 0 : kNoteIcon, high = line_height(TextStyle::Body);
  add_text_item(Role::Text, spec.note, where);
  if (icon > 0) draw_icon({where.left + 11, where.center().y}, 22, spec.note_icon, t.ink);
  draw_rich({where.left + icon, where.center().y - high / 2, where.right + 1, where.center().y + high / 2},
            TextStyle::Body, icon > 0 ? t.ink : t.ink2, spec.note, t.ink);
}

/// Without a × the page beside the sheet closes it, for a voice and for keys by name too.
bool page_beside_pressed(const Box& sheet) {
  const Look& l = look();
  const Box beside = !is_panel()     ? Box{0, 0, l.width, sheet.top}
                     : l.left_handed ? Box{sheet.right, 0, l.width, l.height}
                                     : Box{0, 0, sheet.left, l.height};
  return press({.id = item_id("close"), .name = look_words()("look.close"_w)}, beside).pressed;
}

}  // namespace

Sheet::Sheet(const SheetSpec& spec) : id_(item_id(spec.id)) {
  State& s = state();
  s.layer = 1;
  s.sheet = id_;
  s.ids.push_back(id_);
  s.grounds.push_back(colors().surface);
  float& content = s.measured[id_];
  const std::uint32_t glide = id_ ^ 0x51EE7u;
  if (s.sheet_before != id_) {
    s.glide.erase(glide);
    if (content > 0) content = std::min(content, look().height);
  }
  box_ = rising_box(glide, content);
  s.overlays.push_back({1, box_, true});
  s.sheet_cover = is_panel() ? 0 : box_.height();
  draw_ground(box_);
  add_text_item(id_, Role::Dialog, spec.spoken.empty() ? spec.title : spec.spoken, box_);
  draw_head(spec);
  if (!spec.note.empty() && page_beside_pressed(box_)) closed_ = true;
  take_gestures();
  scroll_.emplace("content", Box{box_.left, box_.top + head_, box_.right, box_.bottom}, look().margin(), 0.0f,
                  14 + look().safe.bottom);
  if (spec.says_refusals && s.refused_on == id_) problem_line(scroll_->pen, s.refused);
}

void Sheet::draw_head(const SheetSpec& spec) {
  const float margin = look().margin(), top = box_.top + kHeadDown + (is_panel() ? look().safe.top : 0);
  const bool has_close = spec.note.empty();
  const float note_icon = spec.note_icon == Icon::None ? 0 : kNoteIcon;
  const float side = has_close ? size::kTouch - 8 : rich_width(TextStyle::Body, spec.note) + note_icon + 12;
  const bool beside = has_close || text_width(TextStyle::Title, spec.title) + side <= box_.width() - 2 * margin;
  const float room = box_.width() - 2 * margin - (beside ? side : 0);
  const float title = wrapped_height(room, TextStyle::Title, spec.title);
  const Box row{box_.left + margin, top, box_.right - margin, top + std::max(title, 32.0f)};
  draw_wrapped({row.left, row.center().y - title / 2, row.left + room, row.bottom}, TextStyle::Title, colors().ink,
               spec.title);
  add_text_item(Role::Heading, spec.title, {row.left, row.top, row.left + room, row.bottom});
  head_ = row.bottom + 6 - box_.top;
  if (has_close) {
    const Box x{row.right - 40, row.center().y - 24, row.right + 8, row.center().y + 24};
    if (icon_button(x, "close", Icon::Close, look_words()("look.close"_w))) closed_ = true;
    return;
  }
  if (beside) return draw_note(spec, {row.right - side + 12, row.top, row.right, row.bottom});
  draw_note(spec, {row.left, row.bottom, row.right, row.bottom + line_height(TextStyle::Body)});
  head_ += line_height(TextStyle::Body);
}

/// A tap on the page behind, Escape and the system's back close it.
void Sheet::take_gestures() {
  const State& s = state();
  const Pointer& p = s.pointer;
  const bool tapped_behind = p.ended && !p.moved && !p.cancelled && !box_.contains(p.start) && s.sheet_before == id_ &&
                             !is_bounce(0, size::kDoublePress_s, p.start);
  if (tapped_behind || key_pressed(LookKey::Escape) || s.close_sheet) closed_ = true;
}

Sheet::~Sheet() {
  State& s = state();
  const float content = head_ + (scroll_->pen.y - box_.top - head_ + scroll_->offset()) + 14 + look().safe.bottom;
  scroll_.reset();
  float& measured = s.measured[id_];
  if (std::abs(measured - content) > 0.5f) {
    measured = content;
    want_frame();
  }
  s.ids.pop_back();
  s.grounds.pop_back();
  s.layer = 0;
}

std::uint32_t sheet_on_screen() { return state().sheet != 0 ? state().sheet : state().sheet_before; }
void say_on_sheet(std::uint32_t sheet, std::string_view sentence) {
  state().refused_on = sheet;
  state().refused = sentence;
}
bool can_close_sheet() { return state().sheet != 0; }
void close_sheet() { state().close_sheet = true; }

float sheet_cover() { return state().sheet_cover_before; }

}  // namespace steep
