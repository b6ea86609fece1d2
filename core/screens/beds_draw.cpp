#include "look/bed_map.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/draw.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/numbers.h"
#include "look/table.h"
#include "screens/beds.h"

namespace steep {
namespace {

constexpr float kPanel = 372;
constexpr float kKey = 250;      // Of 'How to read a bed' beside the map.
constexpr float kKeyFrom = 820;  // Width of the card from which there is room for it.

void filters(Pen& pen, const BedsView& view, BedsInput& input) {
  std::vector<Choice> choices;
  for (const std::string& filter : view.filters) choices.push_back({.text = filter});
  if (const int chosen = segmented(pen, "filter", view.title, choices, static_cast<int>(input.filter)); chosen >= 0)
    input.filter = static_cast<BedFilter>(chosen);
}

void search(Pen& pen, const BedsView& view, BedsInput& input) {
  text_field(pen,
             {.id = "search",
              .label = view.search_label,
              .hint = view.search_label,
              .icon = Icon::Magnify,
              .label_hidden = true},
             input.search);
}

/// The phone's list: block by block in walking order, or what a filter leaves, soonest due first.
void list(Pen& pen, const BedsView& view, std::optional<Ask>& ask, const BedsInput& input) {
  if (view.shown.empty()) {
    paragraph(pen, view.nothing_found, TextStyle::Body);
    return;
  }
  const bool by_block = input.filter == BedFilter::All && input.search.empty();
  std::vector<std::size_t> rows = view.shown;
  if (by_block) std::sort(rows.begin(), rows.end());
  std::string_view block;
  for (const std::size_t index : rows) {
    const BedRow& row = view.all[index];
    if (by_block && row.block != block) {
      block = row.block;
      pen.space(8);
      for (const auto& told : view.blocks)
        if (told.name == row.block) heading_with_note(pen, told.name, told.note);
      pen.space(6);
    }
    const IdScope scope("bed", static_cast<std::int64_t>(index));
    if (bed_strip(pen, "strip", row.strip.strip(), row.strip.spoken)) ask = Go{{"bed", row.strip.bed}};
  }
}

/// One bed a line, as it stands on the map, and what it says.
void key(Pen& pen, const BedsView& view) {
  constexpr float kLine = 44, kStrip = 16;
  static constexpr StripStretch kParts[] = {{.from = 0, .to = 0.5f, .fill = 0.8f}, {.from = 0.5f, .to = 1, .fill = 0}};
  const MapBed shown[] = {{.fill = 0.5f},
                          {.fill = 0, .due = true, .late_days = 1},
                          {.fill = 1, .hold = StripHold::NoHarvest},
                          {.fill = 1, .hold = StripHold::NoEntry},
                          {.stretches = kParts},
                          {.fill = 0, .question = true}};
  paragraph_in(pen, view.key_head, TextStyle::Strong, colors().ink);
  pen.space(6);
  for (std::size_t i = 0; i < view.key.size() && i < std::size(shown); ++i) {
    const Box line = pen.take(kLine);
    draw_upright_strip({line.left, line.top + 2, line.left + kStrip, line.bottom - 6}, shown[i], colors().surface);
    Pen words({line.left + kStrip + 12, line.top - 1, line.right, line.bottom});
    paragraph_in(words, view.key[i].name, TextStyle::LabelStrong, colors().ink);
    words.y -= 4;
    paragraph_in(words, view.key[i].detail, TextStyle::Label, colors().ink2);
  }
}

void map(Pen& pen, const BedsView& view, BedsInput& input) {
  std::vector<MapBed> beds;
  beds.reserve(view.all.size());
  std::vector<std::string> numbers;
  numbers.reserve(view.all.size());
  for (const BedRow& row : view.all) {
    MapBed bed = row.strip.on_map();
    // The block stands over its beds: the stake has room for the number alone.
    const auto digits = row.strip.number.find_first_of("0123456789");
    numbers.push_back(digits == std::string::npos ? row.strip.number : row.strip.number.substr(digits));
    bed.number = numbers.back();
    beds.push_back(bed);
  }
  std::vector<MapBlock> blocks;
  MapPick picked;
  for (std::size_t i = 0; i < view.blocks.size(); ++i) {
    const auto& told = view.blocks[i];
    blocks.push_back({.name = told.name,
                      .note = told.note,
                      .beds = std::span(beds).subspan(told.first, told.count),
                      .covered = told.covered,
                      .zero_end = told.zero_end});
    for (std::size_t j = 0; j < told.count; ++j)
      if (view.all[told.first + j].strip.bed == input.chosen && !input.chosen.is_nil())
        picked = {static_cast<int>(i), static_cast<int>(j)};
  }
  MapPlace place{input.zoom, {input.shift_x, input.shift_y}};
  Card card(pen, {.id = "map"});
  const bool with_key = card.pen.width() >= kKeyFrom && !view.key.empty();
  Pen left = with_key ? card.pen.column({-1, kKey}, 0, 33) : card.pen;
  const float top = card.pen.y;
  float height = bed_map_height(left.width(), blocks);
  if (with_key) {
    Pen right = card.pen.column({-1, kKey}, 1, 33);
    key(right, view);
    height = std::max(height, right.y - top);
    fill_box({right.left - 17, top, right.left - 16, top + height}, colors().rule);
  }
  const Box box = left.take(height);
  const MapPick pressed = bed_map(box, "map", blocks, picked, place);
  card.pen.below(left);
  input.zoom = place.zoom;
  input.shift_x = place.shift.x;
  input.shift_y = place.shift.y;
  if (pressed.block >= 0 && pressed.bed >= 0)
    input.chosen =
        view.all[view.blocks[static_cast<std::size_t>(pressed.block)].first + static_cast<std::size_t>(pressed.bed)]
            .strip.bed;
}

void table(Pen& pen, const BedsView& view, BedsInput& input) {
  const GridColumn columns[] = {{.head = view.heads[0], .width = 72, .sorts = true},
                                {.head = view.heads[1], .width = -1.3f, .sorts = true},
                                {.head = view.heads[2], .width = -0.9f, .sorts = true},
                                {.head = view.heads[3], .width = -2},
                                {.head = view.heads[4], .width = 120},
                                {.head = view.heads[5], .width = -1.1f, .sorts = true},
                                {.head = view.heads[6], .width = -1.3f, .sorts = true}};
  std::vector<BedStrip> strips;
  strips.reserve(view.shown.size());
  for (const std::size_t index : view.shown) strips.push_back(view.all[index].strip.strip());
  Grid spec;
  spec.id = "beds";
  spec.columns = columns;
  spec.rows = view.shown.size();
  spec.sorted_by = input.sorted_by;
  spec.sorted_down = input.sorted_down;
  spec.pin_chosen = true;
  for (std::size_t i = 0; i < view.shown.size(); ++i)
    if (view.all[view.shown[i]].strip.bed == input.chosen) spec.chosen = static_cast<std::int64_t>(i);
  spec.fill = [&](std::size_t at, std::span<GridCell> cells) {
    const BedRow& row = view.all[view.shown[at]];
    cells[0].stake = row.strip.number;
    cells[1].strong = row.crop;
    cells[1].plain = row.size;
    cells[2].plain = row.last_tea;
    cells[3].plain = row.with_brew;
    cells[4].strip = &strips[at];
    cells[5].strong = row.next_due;
    cells[6].sign = row.hold_sign;
    (row.hold_sign == Icon::None ? cells[6].plain : cells[6].strong) = row.hold_until;
    cells[6].grey = row.hold_sign == Icon::None;
  };
  spec.key = [&](std::size_t at) { return static_cast<std::uint32_t>(view.shown[at] + 1); };
  spec.spoken = [&](std::size_t at) { return view.all[view.shown[at]].strip.spoken; };
  const GridEvent event = grid(pen, spec);
  if (event.pressed >= 0) input.chosen = view.all[view.shown[static_cast<std::size_t>(event.pressed)]].strip.bed;
  if (event.sort_column >= 0) {
    input.sorted_down = event.sort_column == input.sorted_by && !input.sorted_down;
    input.sorted_by = event.sort_column;
  }
}

void panel(Screen& screen, const BedsView& view, BedsInput& input, const Furniture& furniture,
           std::optional<Ask>& ask) {
  ScreenPart detail = screen.right();
  Pen& pen = detail.pen();
  const BedPageView& bed = *view.chosen;
  const std::string close = look_words()("look.close"_w);
  if (icon_button({pen.right - 48, pen.y, pen.right, pen.y + 48}, "close", Icon::Close, close)) input.chosen = {};
  big_number(pen,
             {.number = bed.title, .unit = bed.crop, .words_at_right = false, .spoken = bed.title + " " + bed.crop});
  paragraph(pen, bed.second, TextStyle::Label);
  pen.space(10);
  draw_bed_strip(pen.take(bed_strip_height(pen.width(), bed.strip.strip(), false)), bed.strip.strip(),
                 colors().surface);
  pen.space(12);
  draw_bed_holds(pen, bed, ask);
  const NumberGroup groups[] = {{bed.due_label, bed.due_number, bed.due_unit, bed.due_detail},
                                {bed.sum_label, bed.sum_number, bed.sum_unit, bed.sum_detail}};
  number_groups(pen, groups);
  divider(pen, 8, 4);
  draw_bed_history(pen, bed, false, ask);
  pen.space(12);
  if (auto photo = draw_photos(pen, bed.photos, furniture)) ask = std::move(photo);
}

}  // namespace

std::optional<Ask> draw_beds(const BedsView& view, BedsInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  ScreenSpec spec = furniture.tab("beds", view.title, view.second);
  const bool wide = look().screen() == ScreenClass::Desktop;
  input.wide = wide;
  if (wide && view.chosen) spec.right_panel = kPanel;
  Screen screen(spec);
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    if (view.all.empty()) {
      if (empty_state(pen, {.id = "none",
                            .first = view.no_beds,
                            .why = view.no_beds_why,
                            .button = view.add_block,
                            .icon = Icon::Plus}))
        ask = Go{{"start-farm", {}}};
    } else if (wide) {
      map(pen, view, input);
      Pen left = pen.column({-1, 320}, 0), right = pen.column({-1, 320}, 1);
      filters(left, view, input);
      search(right, view, input);
      pen.below(left);
      pen.below(right);
      pen.space(10);
      table(pen, view, input);
    } else {
      filters(pen, view, input);
      pen.space(8);
      search(pen, view, input);
      pen.space(10);
      list(pen, view, ask, input);
    }
  }
  if (wide && view.chosen) {
    panel(screen, view, input, furniture, ask);
    ScreenPart foot = screen.right_foot();
    if (button(foot.pen(),
               {.id = "add", .text = view.chosen->add_text, .icon = Icon::Plus, .kind = ButtonKind::Primary})) {
      input.bed.adding = true;
      input.bed.adds = 0;
    }
  }
  if (view.chosen && !furniture.covered)
    if (auto add = draw_add_sheet(*view.chosen, input.bed)) ask = std::move(add);
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
