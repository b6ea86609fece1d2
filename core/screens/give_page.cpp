#include "screens/give_page.h"

#include <set>

#include "book/places.h"
#include "look/button.h"
#include "look/card.h"
#include "look/choice.h"
#include "look/frame.h"
#include "screens/parts.h"
#include "screens/photo_words.h"

namespace steep {
namespace {

bool is_ticked(const std::vector<bool>& ticks, std::size_t i) { return i >= ticks.size() || ticks[i]; }

void check_rows(Pen& pen, std::string_view id, const std::vector<GivePageView::Share>& shares,
                std::vector<bool>& ticks) {
  ticks.resize(shares.size(), true);
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const IdScope scope(id, static_cast<std::int64_t>(i));
    bool on = ticks[i];
    check_row(pen, "share", shares[i].name, on);
    ticks[i] = on;
  }
}

}  // namespace

GiveRequest give_request(const GivePageView& view, const GivePageInput& input) {
  GiveRequest request;
  request.unsaved = view.unsaved;
  if (input.whom >= 0 && input.whom < static_cast<int>(view.peers.size()))
    request.lacking_at = view.peers[static_cast<std::size_t>(input.whom)].copy;
  bool all = true;
  for (std::size_t i = 0; i < view.farms.size(); ++i) all = all && is_ticked(input.farms, i);
  for (std::size_t i = 0; i < view.years.size(); ++i) all = all && is_ticked(input.years, i);
  if (all) return request;
  for (const Part& part : view.all_parts) {
    bool wanted = true;
    for (std::size_t i = 0; i < view.farms.size(); ++i)
      wanted = wanted && (view.farms[i].farm != part.farm || is_ticked(input.farms, i));
    for (std::size_t i = 0; i < view.years.size(); ++i)
      wanted = wanted && (view.years[i].year != part.year || is_ticked(input.years, i));
    if (wanted) request.parts.push_back(part);
  }
  return request;
}

namespace {

Result<void> fill_photos(GivePageView& view, const Surroundings& around, const GivePageInput& input) {
  TRY_ASSIGN(const auto& photos, photos_to_give(around.book, give_request(view, input), around.platform.photos()));
  if (photos.photos.empty() && photos.not_here == 0) return {};
  view.photos_label = around.words("give.photos"_w);
  view.photos_why = given_photo_lines(photos, around.units, around.words);
  return {};
}

}  // namespace

Result<GivePageView> give_page_view(const Surroundings& around, const GivePageInput& input) {
  const Words& words = around.words;
  GivePageView view;
  view.title = words("give.title"_w);
  view.second = words("give.second"_w);
  view.whom_head = words("give.whom"_w);
  view.everybody = words("give.everybody"_w);
  view.everybody_why = words("give.everybody_why"_w);
  TRY_ASSIGN(const auto& peers, around.book.peers());
  for (const Book::Peer& peer : peers) {
    if (peer.tips.empty()) continue;
    view.peers.push_back({peer.copy,
                          words("give.only_lacking"_w, {peer.label.empty() ? short_code(peer.copy) : peer.label}),
                          words("give.by_its_file"_w, {around.when(peer.heard)})});
  }
  std::set<Part> parts;
  for (const Lane& lane : around.book.lanes())
    if (lane.last_seq > 0) parts.insert(lane.part);
  view.all_parts.assign(parts.begin(), parts.end());
  view.parts_head = words("give.farms"_w);
  view.parts_why = words("give.parts_why"_w);
  view.house = words("give.house"_w);
  view.years_head = words("give.years"_w);
  TRY_ASSIGN(const auto& all, farms(around.book));
  for (const Farm& farm : all)
    if (all.size() > 1)
      view.farms.push_back({farm.client.empty() ? farm.name : farm.name + " · " + farm.client, farm.id, 0});
  std::set<int, std::greater<>> years;
  for (const Part& part : parts)
    if (part.year != 0) years.insert(part.year);
  for (const int year : years)
    if (years.size() > 1) view.years.push_back({std::to_string(year), {}, year});
  view.shares = around.platform.can(Verb::ShareFile);
  view.unsaved = around.platform.storage().state == SaveState::NotSaved;
  view.lock_label = words("lock.lock_it"_w);
  view.passphrase_label = words("lock.passphrase"_w);
  if (input.lock)
    view.lock_why = {words("lock.cannot_be_recovered"_w), words("lock.several_words"_w),
                     words("lock.handover_alone"_w)};
  view.go = words(input.lock ? "lock.give_locked"_w : "book.give"_w);
  view.can_give = !input.lock || !input.passphrase.passphrase.empty();
  view.why_not = words("lock.type_one"_w);
  TRY(fill_photos(view, around, input));
  return view;
}

std::optional<Ask> draw_give_page(const GivePageView& view, GivePageInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("give", view.title, view.second));
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    heading(column, view.whom_head, TextStyle::Strong);
    std::vector<Choice> whom{{.text = view.everybody, .second = view.everybody_why}};
    for (const auto& peer : view.peers) whom.push_back({.text = peer.name, .second = peer.heard});
    if (const int i = choice_cells(column, "whom", view.whom_head, whom, input.whom + 1, 1); i >= 0) input.whom = i - 1;
    column.space(12);
    if (!view.farms.empty() || !view.years.empty()) {
      Card card(column,
                {.id = "parts", .head = view.farms.empty() ? std::string_view(view.years_head) : view.parts_head});
      if (!view.farms.empty()) {
        check_rows(card.pen, "farm", view.farms, input.farms);
        paragraph(card.pen, view.house, TextStyle::Label);
      }
      if (!view.farms.empty() && !view.years.empty()) {
        card.pen.space(8);
        heading(card.pen, view.years_head, TextStyle::Strong);
      }
      check_rows(card.pen, "year", view.years, input.years);
      card.pen.space(6);
      paragraph(card.pen, view.parts_why, TextStyle::Label);
    }
    if (!view.photos_label.empty()) {
      Card card(column, {.id = "photos"});
      check_row(card.pen, "photos", view.photos_label, input.photos);
      for (const std::string& line : input.photos ? view.photos_why : std::vector<std::string>())
        paragraph(card.pen, line, TextStyle::Label);
    }
    {
      Card card(column, {.id = "lock"});
      check_row(card.pen, "lock", view.lock_label, input.lock);
      if (input.lock) passphrase_field(card.pen, look_words(), view.passphrase_label, input.passphrase);
      for (const std::string& line : view.lock_why) {
        card.pen.space(6);
        paragraph(card.pen, line, TextStyle::Label);
      }
    }
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    if (button(actions.pen(), {.id = "give",
                               .text = view.go,
                               .icon = Icon::FileOut,
                               .kind = ButtonKind::Primary,
                               .enabled = view.can_give,
                               .why_not = view.why_not}))
      ask = GiveFile{give_request(view, input), view.shares, input.photos && !view.photos_label.empty(),
                     input.lock ? input.passphrase.passphrase : Passphrase()};
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
