#include "bench/large_book.h"

#include <string>
#include <vector>

#include "book/farm_commands.h"

namespace steep::bench {
namespace {

constexpr std::int64_t kHour = 3'600'000, kDay = 24 * kHour;
constexpr int kOffset = -420;
constexpr const char* kCrops[] = {"chard", "lettuce", "kale", "beet", "carrot", "spinach"};

class Maker {
 public:
  Maker(test::FakePlatform& platform, Book book) : platform_(platform), book_(std::move(book)) {}

  Result<void> make(int seasons) {
    const Moment end = platform_.clock;
    platform_.clock = end - seasons * 365 * kDay;
    TRY(start());
    for (int season = 0; season < seasons; ++season) {
      platform_.clock = end - (seasons - season) * 365 * kDay + 215 * kDay;  // The season's first day; it lasts 150.
      TRY(one_season());
    }
    platform_.clock = end;
    return {};
  }

 private:
  Result<void> start() {
    FarmGiven given;
    given.name = "Alder Reach";
    given.zone_name = platform_.zone;
    given.tea_wait_days = 1;
    given.person_name = "Ana Leland";
    for (const char* name : {"North", "South", "East", "Creek"}) {
      BlockGiven block;
      block.name = name;
      block.beds = kBeds / 4;
      block.length = parse_written("100 ft").value_or(Written{});
      block.width = parse_written("30 in").value_or(Written{});
      block.zero_end = "lane";
      given.blocks.push_back(block);
    }
    TRY_ASSIGN(const StartedFarm started, start_farm(book_, given, {}));
    farm_ = started.farm, ana_ = started.person, beds_ = started.beds;
    TRY(set_interval(book_, farm_, farm_, {}, false, 14, {ana_, {}, false}));
    rig_ = add("rig", {text_field_value("name", "Backpack 1"), quantity_value("tank.volume", "4 gal"),
                       quantity_value("tank.dead", "0.15 gal")});
    well_ = add("water-source", {text_field_value("name", "Well"), word_value("kind", "well")});
    return write();
  }

  Result<void> one_season() {
    const Moment first = platform_.clock;
    plantings_.clear();
    for (int i = 0; i < 600; ++i) plant(static_cast<std::size_t>(i) % beds_.size());
    TRY(write());
    std::size_t walk = 0;
    for (int pass = 0; pass < kPassesASeason; ++pass) {
      platform_.clock = first + pass * 150 * kDay / kPassesASeason;
      const Id brew = pass % 5 == 4 ? Id{} : add_brew();
      add_pass(brew, walk);
      walk += kBedsAPass;
      for (int harvest = 0; harvest < 2600 / kPassesASeason; ++harvest) add_harvest();
      TRY(write());
    }
    return {};
  }

  void plant(std::size_t bed) {
    plantings_.push_back(
        add("planting", {reference_value("bed", beds_[bed]), text_field_value("crop", kCrops[chance() % 6]),
                         date_value("planted", {2016, 4, 1})}));
  }
  Id add_brew() {
    const Id brew = add("brew", {number_value("number", std::to_string(++brews_)), quantity_value("fill", "50 gal"),
                                 reference_value("water", well_), instant_value("met_water", before(26)),
                                 instant_value("air_on", before(25.5)), instant_value("air_off", before(1))});
    for (int hour : {1, 8, 16, 24}) {
      add("reading", {reference_value("of", brew), word_value("quantity", "temperature"),
                      quantity_value("value.value", std::to_string(60 + chance() % 9) + " degF"),
                      instant_value("at", before(25.0 - hour))});
    }
    return brew;
  }
  void add_pass(const Id& brew, std::size_t first_bed) {
    const Id pass = add("pass", {reference_value("farm", farm_), number_value("number", std::to_string(++passes_)),
                                 reference_value("rig", rig_), word_value("aim", "leaf"),
                                 list_value("people", {ana_.text()}), instant_value("start", before(0)),
                                 instant_value("finish", before(-1)), quantity_value("rates.tea", "20 gal/acre"),
                                 quantity_value("rates.spray", "45 gal/acre"), word_value("rates.area", "bed-top")});
    std::vector<FieldValue> mix{reference_value("pass", pass), number_value("number", "1"),
                                quantity_value("mix.water", "3 gal")};
    if (!brew.is_nil()) mix.insert(mix.end(), {reference_value("mix.brew", brew), quantity_value("mix.tea", "2 gal")});
    const Id load = add("load", std::move(mix));
    for (int i = 0; i < kBedsAPass; ++i) {
      const Id& bed = beds_[(first_bed + static_cast<std::size_t>(i)) % beds_.size()];
      add("dose",
          {reference_value("what.load", load), reference_value("what.bed", bed), quantity_value("what.from", "0 ft"),
           quantity_value("what.to", chance() % 12 == 0 ? "50 ft" : "100 ft"), quantity_value("what.width", "30 in"),
           word_value("what.how", "done"), instant_value("when.start", before(-0.04 * i)),
           instant_value("when.finish", before(-0.04 * (i + 1)))});
    }
  }
  void add_harvest() {
    const std::size_t bed = chance() % beds_.size();
    add("harvest", {reference_value("bed", beds_[bed]), reference_value("planting", plantings_[bed]),
                    instant_value("at", before(4)), quantity_value("amount", std::to_string(5 + chance() % 30) + " lb"),
                    reference_value("by", ana_)});
  }

  Stamp before(double hours) const {
    return {platform_.clock - static_cast<std::int64_t>(hours * static_cast<double>(kHour)), kOffset};
  }
  std::size_t chance() {
    return static_cast<std::size_t>((state_ = state_ * 6364136223846793005u + 1442695040888963407u) >> 33);
  }
  Id add(std::string_view kind, std::vector<FieldValue> fields) {
    Save save;
    save.record = book_.new_record();
    save.kind = kind;
    save.fields = std::move(fields);
    saves_.push_back(std::move(save));
    return saves_.back().record;
  }
  Result<void> write() {
    TRY(book_.write(saves_, ana_));
    saves_.clear();
    return {};
  }

  test::FakePlatform& platform_;
  Book book_;
  Id farm_, ana_, rig_, well_;
  std::vector<Id> beds_, plantings_;
  std::vector<Save> saves_;
  int brews_ = 0, passes_ = 0;
  std::uint64_t state_ = 20260514;
};

}  // namespace

Result<void> make_large_book(test::FakePlatform& platform, int seasons) {
  TRY_ASSIGN(Book book, Book::open(platform.book_place(), needs_of(platform)));
  return Maker(platform, std::move(book)).make(seasons);
}

}  // namespace steep::bench
