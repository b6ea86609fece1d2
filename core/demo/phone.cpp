#include "demo/phone.h"

#include "book/things.h"
#include "demo/season.h"

namespace steep {
namespace {

/// Every line of the farm's book goes in, as a handover file would bring it.
Result<void> take_all(Book& book, const Book& from) {
  Book::Origin origin;
  origin.book = from.id();
  origin.demo = from.is_demo();
  origin.copy = from.copy();
  origin.label = from.copy_label();
  origin.file_name = "alder-reach.steepbook";
  TRY_ASSIGN(const auto& take, book.begin_take(origin));
  for (const Lane& lane : from.lanes()) {
    TRY(take->lane(lane.id, lane.part, lane.label, lane.copy));
    Result<void> taken;
    TRY(from.each_line(lane.id, 1, [&](const Book::Line& line) {
      const auto change = read_change(line.body);
      if (!change)
        taken = tl::unexpected<Problem>(change.error());
      else
        taken = take->line(line.seq, line.prev, line.hash, *change, line.body);
      return taken.has_value();
    }));
    TRY(taken);
  }
  for (;;) {
    TRY_ASSIGN(const auto& step, take->step(1000));
    if (step.done) break;
  }
  TRY(take->finish());
  return {};
}

template <class T>
Id named(const std::vector<T>& things, std::string_view name) {
  for (const T& thing : things)
    if (thing.name == name) return thing.id;
  return {};
}

}  // namespace

Result<Pass> last_sulfur(const Book& farm_book) {
  TRY_ASSIGN(const auto& all, farms(farm_book));
  if (all.empty() || !farm_book.is_demo()) return refuse(Trouble::NotFound, "demo.not_demo"_w);
  TRY_ASSIGN(const auto& done, passes(farm_book, all.front().id));
  for (auto pass = done.rbegin(); pass != done.rend(); ++pass)
    if (!pass->tea_rate) return *pass;
  return refuse(Trouble::NotFound, "demo.not_demo"_w);
}

Result<void> tell_phone(Story& story, const Book& farm_book, const Pass& sprayed) {
  Book& book = *story.book;
  TRY(take_all(book, farm_book));
  TRY(book.set_copy_label("Marek's phone"));
  story.farm = sprayed.farm;
  TRY_ASSIGN(const auto& everybody, people(book));
  TRY_ASSIGN(const auto& all_rigs, rigs(book));
  TRY_ASSIGN(const auto& waters, water_sources(book));
  TRY_ASSIGN(const auto& all_lots, lots(book));
  TRY_ASSIGN(const auto& places, read_places(book, story.farm));
  for (const Bed& bed : places.beds) story.ids[bed.name] = bed.id;
  story.ids["marek"] = named(everybody, "Marek Dolan");
  story.ids["backpack 2"] = named(all_rigs, "Backpack 2");
  story.ids["well"] = named(waters, "Well");
  for (const Lot& lot : all_lots)
    if (lot.code == "S-31") story.ids["lot sulfur"] = lot.id;

  PassTold told;
  told.start = sprayed.start.at + 45 * kSecond;
  told.who = "marek";
  told.rig = "backpack 2";
  told.beds = {"T4", "T5"};
  told.lot = "lot sulfur";
  told.amount = "1 oz";
  told.inside = true;
  story.go_to(told.start);
  return play_pass(story, told);
}

}  // namespace steep
