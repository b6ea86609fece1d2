#include "look/text.h"

#include <algorithm>
#include <array>
#include <cfloat>
#include <cmath>
#include <vector>

#include "look/draw.h"
#include "look/fonts.h"
#include "look/frame_state.h"

namespace steep {

using namespace look_state;

namespace {

/// How a style grows with the text size.
enum class Growth { Full, Half, Tick };

struct StyleFigures {
  float size, line;
  bool bold;
  Growth growth;
};

constexpr std::array<StyleFigures, 13> kStyles = {{
    {56, 56, true, Growth::Half},   // Xl
    {40, 44, true, Growth::Half},   // L
    {28, 32, true, Growth::Half},   // M
    {22, 28, true, Growth::Half},   // Title
    {24, 28, true, Growth::Half},   // FirstTitle
    {20, 24, true, Growth::Full},   // Button
    {16, 20, true, Growth::Full},   // SmallButton
    {16, 22, true, Growth::Full},   // Strong
    {16, 22, false, Growth::Full},  // Body
    {14, 18, true, Growth::Full},   // LabelStrong
    {14, 18, false, Growth::Full},  // Label
    {13, 16, true, Growth::Tick},   // TickStrong
    {13, 16, false, Growth::Tick},  // Tick
}};

const StyleFigures& figures(TextStyle style) { return kStyles[static_cast<std::size_t>(style)]; }

float growth(Growth how) {
  const float full = static_cast<float>(look().text_percent) / 100.0f;
  switch (how) {
    case Growth::Full: return full;
    case Growth::Half: return 1 + (full - 1) / 2;
    case Growth::Tick: return std::min(full, 1.15f);
  }
  return full;
}

float width_of(bool bold, float size, std::string_view text) {
  if (text.empty()) return 0;
  return font_of(bold)->CalcTextSizeA(size, FLT_MAX, 0, text.data(), text.data() + text.size()).x;
}

float aligned(float x, float width, Align align) {
  switch (align) {
    case Align::Left: return x;
    case Align::Center: return x - width / 2;
    case Align::Right: return x - width;
  }
  return x;
}

/// One run on a baseline. ImGui puts text on whole dp; the rest is added to its vertices, so that
/// text stands on device pixels.
void run(float x, float baseline, bool bold, float size, Color color, std::string_view text) {
  if (text.empty()) return;
  ImFont* font = font_of(bold);
  ImDrawList* list = draw_list();
  const float ascent = font->GetFontBaked(size)->Ascent;
  const Point wanted{snap(x), snap(baseline) - ascent};
  const Point whole{std::floor(wanted.x), std::floor(wanted.y)};
  const int first = list->VtxBuffer.Size;
  list->AddText(font, size, vec(whole), color, text.data(), text.data() + text.size());
  const Point rest = wanted - whole;
  if (rest.x == 0 && rest.y == 0) return;
  for (int i = first; i < list->VtxBuffer.Size; ++i) {
    list->VtxBuffer[i].pos.x += rest.x;
    list->VtxBuffer[i].pos.y += rest.y;
  }
}

float x_of(const Box& box, Align align) {
  return align == Align::Left ? box.left : align == Align::Right ? box.right : box.center().x;
}

/// A piece of text of one weight without spaces; `space`: a space stands before it.
struct Piece {
  std::string_view text;
  bool bold = false, space = false;
  float width = 0;
};

/// Cuts at spaces and, in rich text, at '**'. Reuses one buffer: no allocation per text.
const std::vector<Piece>& pieces_of(std::string_view text, TextStyle style, bool rich) {
  static std::vector<Piece> pieces;
  pieces.clear();
  const float size = text_size(style);
  bool bold = is_bold(style), space = false;
  const bool plain_bold = bold;
  std::size_t i = 0;
  while (i < text.size()) {
    if (rich && text.substr(i, 2) == "**") {
      bold = !bold || plain_bold;
      i += 2;
      continue;
    }
    if (text[i] == ' ') {
      space = true;
      ++i;
      continue;
    }
    if (text[i] == '\n') {
      pieces.push_back({text.substr(i, 1), bold, false, -1});
      space = false;
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < text.size() && text[end] != ' ' && text[end] != '\n' && !(rich && text.substr(end, 2) == "**")) ++end;
    pieces.push_back({text.substr(i, end - i), bold, space, width_of(bold, size, text.substr(i, end - i))});
    space = false;
    i = end;
  }
  return pieces;
}

/// '24 h', '66 °F', '0.15 gal': a short word after a number belongs to it; so does the second word of 'fl oz'.
bool belongs_to(const Piece& before, const Piece& word) {
  for (const std::string_view first : {"fl", "sq", "cu"})
    if (before.text == first) return true;
  if (before.text.empty() || word.text.size() > 4) return false;
  const char last = before.text.back();
  return last >= '0' && last <= '9' && !(word.text[0] >= '0' && word.text[0] <= '9');
}
/// A dot between two facts stands between them on one line only.
bool is_between(const Piece& piece) { return piece.text == "·"; }

/// Bytes of the longest start of `text` that is at most `room` wide; at least one character.
std::size_t fitting(std::string_view text, bool bold, float size, float room) {
  std::size_t fits = 0, at = 0;
  while (at < text.size()) {
    std::size_t next = at + 1;
    while (next < text.size() && (static_cast<unsigned char>(text[next]) & 0xC0) == 0x80) ++next;
    if (at > 0 && width_of(bold, size, text.substr(0, next)) > room) break;
    fits = at = next;
  }
  return fits;
}

/// Lays out and, when `color` is not 0, draws. Returns the height.
float flow(const Box& box, TextStyle style, Color color, Color bold_color, std::string_view text, bool rich,
           Align align) {
  const float size = text_size(style), line = line_height(style);
  // Half a dp of slack: a box made exactly as wide as its words must not wrap them.
  const float room = std::max(1.0f, box.width()) + 0.6f;
  static std::vector<Piece> pieces;  // A copy, since over-wide words are cut in it.
  pieces = pieces_of(text, style, rich);
  float y = box.top;
  std::size_t first = 0;
  const auto span_width = [&](std::size_t from, std::size_t to) {
    float sum = 0;
    for (std::size_t i = from; i < to; ++i)
      sum += pieces[i].width + (i > from && pieces[i].space ? width_of(false, size, " ") : 0);
    return sum;
  };
  const auto write = [&](std::size_t from, std::size_t to) {
    if (to > from && to < pieces.size() && is_between(pieces[to - 1])) --to;
    if (from < to && from > 0 && is_between(pieces[from])) ++from;
    if (color == 0 || from == to) return;
    const Box row{box.left, y, box.right, y + line};
    if (!is_visible({box.left - 4, y - 4, box.right + 4, y + line + 4})) return;
    float x = aligned(x_of(row, align), align == Align::Left ? 0 : span_width(from, to), align);
    const float baseline = baseline_in(row, style);
    for (std::size_t i = from; i < to; ++i) {
      const Piece& p = pieces[i];
      if (i > from && p.space) x += width_of(p.bold && pieces[i - 1].bold, size, " ");
      run(x, baseline, p.bold, size, p.bold && bold_color != 0 ? bold_color : color, p.text);
      x += p.width;
    }
  };
  float width = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (pieces[i].width < 0) {  // Line end.
      write(first, i);
      y += line;
      first = i + 1;
      width = 0;
      continue;
    }
    float gap = i > first && pieces[i].space ? width_of(false, size, " ") : 0;
    if (i > first && width + gap + pieces[i].width > room) {
      // Back to the last place where a line may end; a unit never parts from its number.
      std::size_t cut = i;
      while (cut > first && (!pieces[cut].space || belongs_to(pieces[cut - 1], pieces[cut]))) --cut;
      if (cut == first && pieces[i].space) cut = i;
      if (cut > first) {
        write(first, cut);
        y += line;
        first = cut;
        width = span_width(cut, i);
        gap = i > first && pieces[i].space ? gap : 0;
      }
    }
    if (pieces[i].width > room && i == first) {  // A word wider than the box.
      const std::size_t cut = fitting(pieces[i].text, pieces[i].bold, size, room);
      if (cut < pieces[i].text.size()) {
        Piece rest = pieces[i];
        rest.text = rest.text.substr(cut);
        rest.space = true;
        rest.width = width_of(rest.bold, size, rest.text);
        pieces[i].text = pieces[i].text.substr(0, cut);
        pieces[i].width = width_of(pieces[i].bold, size, pieces[i].text);
        pieces.insert(pieces.begin() + static_cast<std::ptrdiff_t>(i) + 1, rest);
      }
    }
    width += (i > first ? gap : 0) + pieces[i].width;
  }
  write(first, pieces.size());
  if (first < pieces.size() || pieces.empty()) y += line;
  return y - box.top;
}

}  // namespace

float text_size(TextStyle style) { return std::round(figures(style).size * growth(figures(style).growth)); }
float line_height(TextStyle style) { return std::ceil(figures(style).line * growth(figures(style).growth)); }
bool is_bold(TextStyle style) { return figures(style).bold; }
float text_width(TextStyle style, std::string_view text) { return width_of(is_bold(style), text_size(style), text); }

float longest_word(TextStyle style, std::string_view text) {
  float longest = 0;
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t to = std::min(text.find(' ', from), text.size());
    longest = std::max(longest, text_width(style, text.substr(from, to - from)));
    from = to + 1;
  }
  return longest;
}

float baseline_in(const Box& box, TextStyle style) { return (box.top + box.bottom) / 2 + 0.38f * text_size(style); }

void draw_text(const Box& box, TextStyle style, Color color, std::string_view text, Align align) {
  draw_text_on(x_of(box, align), baseline_in(box, style), style, color, text, align);
}

void draw_text_on(float x, float baseline, TextStyle style, Color color, std::string_view text, Align align) {
  if (align != Align::Left) x = aligned(x, text_width(style, text), align);
  run(x, baseline, is_bold(style), text_size(style), color, text);
}

void draw_struck(const Box& box, TextStyle style, std::string_view text) {
  draw_text(box, style, colors().ink2, text);
  const float y = baseline_in(box, style) - 0.36f * text_size(style);
  line({box.left, y}, {box.left + text_width(style, text), y}, colors().ink2, 2);
}

void draw_ink_through(const Box& box, TextStyle style, Color ink, std::string_view text, const Box& fill, Color through,
                      Align align) {
  draw_text(box, style, ink, text, align);
  const Clip clip(fill);
  if (!clip_box().empty()) draw_text(box, style, through, text, align);
}

void draw_cut(const Box& box, TextStyle style, Color color, std::string_view text) {
  if (text_width(style, text) <= box.width()) return draw_text(box, style, color, text);
  constexpr std::string_view kMore = "…";
  const float room = box.width() - text_width(style, kMore);
  std::string cut(text.substr(0, fitting(text, is_bold(style), text_size(style), room)));
  draw_text(box, style, color, cut.append(kMore));
}

namespace {
float unit_gap(TextStyle number_style) { return std::round(text_size(number_style) * 0.14f + 2); }
}  // namespace

float number_width(TextStyle number_style, std::string_view number, TextStyle unit_style, std::string_view unit) {
  return text_width(number_style, number) + (unit.empty() ? 0 : unit_gap(number_style) + text_width(unit_style, unit));
}

float draw_number(float x, float baseline, TextStyle number_style, std::string_view number, TextStyle unit_style,
                  std::string_view unit, Color color, Align align) {
  const float width = number_width(number_style, number, unit_style, unit);
  const float left = aligned(x, width, align);
  draw_text_on(left, baseline, number_style, color, number);
  draw_text_on(left + width, baseline, unit_style, color, unit, Align::Right);
  return width;
}

float wrapped_height(float width, TextStyle style, std::string_view text) {
  return flow({0, 0, width, 0}, style, 0, 0, text, false, Align::Left);
}
float draw_wrapped(const Box& box, TextStyle style, Color color, std::string_view text, Align align) {
  return flow(box, style, color, 0, text, false, align);
}
float rich_height(float width, TextStyle style, std::string_view text) {
  return flow({0, 0, width, 0}, style, 0, 0, text, true, Align::Left);
}
float draw_rich(const Box& box, TextStyle style, Color color, std::string_view text, Color bold_color, Align align) {
  return flow(box, style, color, bold_color, text, true, align);
}
float rich_width(TextStyle style, std::string_view text) {
  float width = 0;
  const float size = text_size(style);
  bool first = true;
  for (const Piece& piece : pieces_of(text, style, true)) {
    if (piece.space && !first) width += width_of(false, size, " ");
    width += std::max(0.0f, piece.width);
    first = false;
  }
  return width;
}

}  // namespace steep
