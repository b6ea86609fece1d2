// Random passes of two rigs, written, corrected and struck in any order, against a naive model of what is in a tank; and the
// findings that follow each write against those of a book folded anew.
#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "book/bed_states.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

struct ModelPass {
  std::size_t rig = 0;
  std::int64_t start = 0;  // minutes
  bool struck = false;
};
struct ModelLoad {
  std::size_t pass = 0;
  int number = 0;
  std::optional<double> left;  // gal
  double poured = 0;
  bool sulfur = false, struck = false;
};
struct ModelWash {
  std::size_t rig = 0;
  std::int64_t at = 0;
};

struct TankModel {
  std::map<Id, ModelPass> passes;
  std::map<Id, ModelLoad> loads;
  std::vector<Id> pass_ids;
  std::vector<ModelWash> washes;
  std::vector<std::pair<Id, std::size_t>> doses;  // load, bed

  bool stands(const ModelLoad& load) const { return !load.struck && !passes.at(pass_ids[load.pass]).struck; }
  /// In the order in which they were in the tank of a rig.
  std::vector<Id> in_tank(std::size_t rig) const {
    std::vector<Id> ids;
    for (const auto& [id, load] : loads)
      if (stands(load) && passes.at(pass_ids[load.pass]).rig == rig) ids.push_back(id);
    std::sort(ids.begin(), ids.end(), [&](const Id& a, const Id& b) { return place(a) < place(b); });
    return ids;
  }
  std::tuple<std::int64_t, Id, int> place(const Id& id) const {
    const ModelLoad& load = loads.at(id);
    return {passes.at(pass_ids[load.pass]).start, pass_ids[load.pass], load.number};
  }
  bool washed(const Id& before, const Id& next, std::size_t rig) const {
    if (loads.at(before).pass == loads.at(next).pass) return false;
    const std::int64_t from = std::get<0>(place(before)), to = std::get<0>(place(next));
    return std::any_of(washes.begin(), washes.end(),
                       [&](const ModelWash& wash) { return wash.rig == rig && wash.at > from && wash.at <= to; });
  }
  /// Loads that sulfur was in, or may have been.
  std::set<Id> with_sulfur() const {
    std::set<Id> found;
    for (std::size_t rig = 0; rig < 2; ++rig) {
      const std::vector<Id> ids = in_tank(rig);
      for (std::size_t i = 0; i < ids.size(); ++i) {
        bool in = loads.at(ids[i]).sulfur;
        if (i > 0 && found.count(ids[i - 1]) > 0) {
          const ModelLoad& before = loads.at(ids[i - 1]);
          in = in || ((!before.left || *before.left > before.poured) && !washed(ids[i - 1], ids[i], rig));
        }
        if (in) found.insert(ids[i]);
      }
    }
    return found;
  }
  std::set<std::size_t> held_beds() const {
    std::set<std::size_t> beds;
    const std::set<Id> sulfur = with_sulfur();
    for (const auto& [load, bed] : doses)
      if (sulfur.count(load) > 0) beds.insert(bed);
    return beds;
  }
};

class RandomPasses {
 public:
  explicit RandomPasses(std::uint64_t seed) : chance_(seed) {
    rigs_ = {farm_.rig, add(book(), "rig", {text_field_value("name", "Backpack 2")})};
    const Id sulfur = farm_.material("Wettable sulfur", "pesticide", true);
    farm_.label(sulfur, "", "60 day");
    lot_ = farm_.lot(sulfur, "S-1", "9 kg");
  }
  void run() {
    for (int i = 0; i < 45; ++i) {
      step();
      check_beds();
    }
    const std::vector<std::string> findings = reviews();
    found_ += findings.size();
    REQUIRE(book().rebuild());
    CHECK(reviews() == findings);
    check_beds();
  }
  std::size_t held() const { return held_; }
  std::size_t found() const { return found_; }

 private:
  Book& book() { return farm_.book(); }
  Stamp stamp(std::int64_t minutes) const { return {begin_ + minutes * kMinute, -240}; }
  std::int64_t some_time() { return static_cast<std::int64_t>(chance_.below(30)) * 60; }
  Id some(const std::vector<Id>& ids) { return ids[chance_.below(ids.size())]; }

  void step() {
    switch (model_.loads.empty() ? 0 : chance_.below(14)) {
      case 0: return add_pass();
      case 1:
      case 2: return add_load(chance_.below(model_.pass_ids.size()));
      case 3: return add_sulfur(some(loads_));
      case 4:
      case 5: return add_dose(some(loads_));
      case 6: return add_wash();
      case 7: return set_left(some(loads_));
      case 8: return pour_out(some(loads_));
      case 9: return change_pass(chance_.below(model_.pass_ids.size()));
      case 10: return chance_.one_in(2) ? strike_one(some(loads_)) : pick();
      default: return pick();
    }
  }
  void add_pass() {
    ModelPass pass{chance_.below(2), some_time(), false};
    const Id id = add(book(), "pass",
                      {reference_value("farm", farm_.farm), reference_value("rig", rigs_[pass.rig]),
                       word_value("aim", "leaf"), instant_value("start", stamp(pass.start))});
    model_.passes[id] = pass;
    model_.pass_ids.push_back(id);
    add_load(model_.pass_ids.size() - 1);
  }
  void add_load(std::size_t pass) {
    const Id of = model_.pass_ids[pass];
    if (model_.passes.at(of).struck) return;
    const int number = ++numbers_[pass];
    const Id id = add(book(), "load",
                      {reference_value("pass", of), number_value("number", std::to_string(number)),
                       quantity_value("mix.tea", "0 gal"), quantity_value("mix.water", "2 gal")});
    model_.loads[id] = {pass, number, {}, 0, false, false};
    loads_.push_back(id);
  }
  void add_sulfur(const Id& load) {
    if (!model_.stands(model_.loads.at(load))) return;
    add(book(), "load-line", {reference_value("load", load), reference_value("amount.lot", lot_)});
    model_.loads.at(load).sulfur = true;
  }
  void add_dose(const Id& load) {
    if (!model_.stands(model_.loads.at(load))) return;
    const std::size_t bed = chance_.below(4);
    add(book(), "dose",
        {reference_value("what.load", load), reference_value("what.bed", farm_.beds[bed]),
         quantity_value("what.from", "0 ft"), quantity_value("what.to", "100 ft"), word_value("what.how", "done"),
         instant_value("when.finish", stamp(some_time()))});
    model_.doses.emplace_back(load, bed);
  }
  void add_wash() {
    const ModelWash wash{chance_.below(2), some_time() + static_cast<std::int64_t>(chance_.below(2)) * 30};
    add(book(), "wash", {reference_value("of", rigs_[wash.rig]), instant_value("at", stamp(wash.at))});
    model_.washes.push_back(wash);
  }
  void set_left(const Id& load) {
    ModelLoad& of = model_.loads.at(load);
    if (!model_.stands(of)) return;
    of.left = chance_.one_in(2) ? 0.0 : 0.5;
    edit(book(), load, {quantity_value("left", *of.left > 0 ? "0.5 gal" : "0 gal")});
  }
  void pour_out(const Id& load) {
    ModelLoad& of = model_.loads.at(load);
    if (!model_.stands(of)) return;
    add(book(), "discard",
        {reference_value("of", load), quantity_value("volume", "0.5 gal"), text_field_value("where.words", "heap")});
    of.poured += 0.5;
  }
  void change_pass(std::size_t which) {
    const Id id = model_.pass_ids[which];
    ModelPass& pass = model_.passes.at(id);
    if (pass.struck) return;
    pass.rig = chance_.below(2);
    pass.start = some_time();
    edit(book(), id, {reference_value("rig", rigs_[pass.rig]), instant_value("start", stamp(pass.start))});
  }
  /// With what hangs on it; its doses no longer count.
  void strike_one(const Id& load) {
    ModelLoad& of = model_.loads.at(load);
    if (!model_.stands(of)) return;
    const bool whole_pass = chance_.one_in(3);
    done(strike(book(), whole_pass ? model_.pass_ids[of.pass] : load, "never done", farm_.by_ana()));
    (whole_pass ? model_.passes.at(model_.pass_ids[of.pass]).struck : of.struck) = true;
  }
  void pick() {
    add(book(), "harvest",
        {reference_value("bed", farm_.beds[chance_.below(4)]), quantity_value("amount", "1 lb"),
         instant_value("at", stamp(some_time() + 15))});
  }

  void check_beds() {
    const std::set<std::size_t> wanted = model_.held_beds();
    const BedStates states = got(bed_states(book(), farm_.farm, farm_.now()));
    for (std::size_t bed = 0; bed < 4; ++bed)
      CHECK(states.beds[bed].holds_harvest(states.at) == (wanted.count(bed) > 0));
    held_ += wanted.size();
  }
  std::vector<std::string> reviews() {
    std::vector<std::string> all;
    for (const Review& review : got(book().reviews())) {
      all.push_back(review.record.text() + ' ' + std::string(review.why.key));
      for (const std::string& value : review.values) all.back() += ' ' + value;
    }
    std::sort(all.begin(), all.end());
    return all;
  }

  Chance chance_;
  FarmBook farm_{0, 4};
  const Moment begin_{(farm_.now().ms - 3 * kDay) / kMinute * kMinute};
  std::vector<Id> rigs_, loads_;
  Id lot_;
  TankModel model_;
  std::map<std::size_t, int> numbers_;
  std::size_t held_ = 0, found_ = 0;
};

}  // namespace

TEST_CASE("random passes: each bed is held by what may be in the tank, and findings are those of a book folded anew") {
  std::size_t held = 0, found = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    RandomPasses history(seed);
    history.run();
    held += history.held();
    found += history.found();
  }
  CHECK(held > 1000);
  CHECK(found > 60);
  MESSAGE(held, " beds held by what was in a tank, ", found, " findings");
}
