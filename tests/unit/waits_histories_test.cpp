// I19 over random histories: on no copy does a wait end earlier than under any head, any entry in question or
// any readable waiting change. Against the model of that copy's own journal.
#include <cstdlib>

#include "book/record_commands.h"
#include "tests/unit/model.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Lines of a journal by their address, and who had seen whom.
class Ancestry {
 public:
  explicit Ancestry(const Journal& journal) {
    for (const auto& [hash, line] : journal) lines_[line.address()] = &line;
  }
  bool reaches(const ModelLine& from, const ModelLine& to) const {
    std::set<std::string> met;
    return reach(from, to, met);
  }

 private:
  bool reach(const ModelLine& from, const ModelLine& to, std::set<std::string>& met) const {
    if (&from == &to) return true;
    for (const ChangeRef& ref : from.change.seen) {
      const auto found = lines_.find(ref.text());
      if (found != lines_.end() && met.insert(ref.text()).second && reach(*found->second, to, met)) return true;
    }
    return false;
  }
  std::map<std::string, const ModelLine*> lines_;
};

Journal journal_of(const Book& book) {
  Journal journal;
  for (const Section& section : everything(book))
    for (const Book::Line& line : section.lines)
      journal.emplace(line.hash, ModelLine{line.prev, line.hash, *read_change(line.body)});
  return journal;
}

/// Struck, by people who agree, and whoever edited it had seen the strike or was seen by the striker.
bool left_out(const Journal& journal, const Ancestry& ancestry, const std::map<std::string, ModelGroup>& groups) {
  const auto struck = groups.find("struck");
  if (struck == groups.end()) return false;
  for (const Hash& head : struck->second.heads)
    if (text_in(journal.at(head).change.fields, "struck") == "(not taken)") return false;
  for (const Hash& one : struck->second.heads) {
    const ModelLine& strike = journal.at(one);
    for (const auto& [key, group] : groups) {
      if (key == "struck") continue;
      for (const Hash& head : group.heads) {
        const ModelLine& edit = journal.at(head);
        if (!ancestry.reaches(strike, edit) && !ancestry.reaches(edit, strike)) return false;
      }
    }
  }
  return true;
}

/// What a dose was given up for, by anybody.
std::set<Id> given_up_for(const Journal& journal, const std::map<std::string, ModelGroup>& groups) {
  std::set<Id> others;
  if (const auto same = groups.find("same_as"); same != groups.end())
    for (const Hash& head : same->second.heads)
      if (const auto id = Id::parse(text_in(journal.at(head).change.fields, "same_as"))) others.insert(*id);
  return others;
}

/// Was it given up for others of which one does not stand, by what anybody says, nor stands in what it was itself given up
/// for?
bool given_up_for_none(const Journal& journal, const std::map<Id, const std::map<std::string, ModelGroup>*>& of,
                       const Id& dose, std::set<Id> met = {}) {
  const auto others = given_up_for(journal, *of.at(dose));
  if (!met.insert(dose).second) return true;  // Round in a ring.
  for (const Id& other : others) {
    if (of.count(other) == 0) return true;
    const auto struck = of.at(other)->find("struck");
    const bool stands = struck == of.at(other)->end() ||
                        std::all_of(struck->second.heads.begin(), struck->second.heads.end(), [&](const Hash& head) {
                          return text_in(journal.at(head).change.fields, "struck") == "(not taken)";
                        });
    if (stands) continue;
    if (given_up_for(journal, *of.at(other)).empty() || given_up_for_none(journal, of, other, met)) return true;
  }
  return false;
}

/// Bed → the latest finish under any reading; one day later picking comes into question.
std::map<Id, Moment> latest_finishes(const Book& book) {
  const Journal journal = journal_of(book);
  const Ancestry ancestry(journal);
  std::map<Id, Part> parts;
  for (const Lane& lane : book.lanes()) parts[lane.id] = lane.part;
  const State state = fold_model(journal, parts);
  const std::set<Hash> counts = ready(journal);
  std::map<Id, std::vector<Moment>> finishes;  // dose → readings
  std::map<Id, Id> beds;
  std::set<Id> waits;
  for (const auto& [hash, line] : journal) {
    if (line.change.kind != "dose") continue;
    for (const FieldValue& field : line.change.fields)
      if (field.key == "what.bed") beds[line.change.record] = *Id::parse(field.text);
    if (counts.count(hash) > 0) continue;
    waits.insert(line.change.record);
    for (const FieldValue& field : line.change.fields)
      if (field.key == "when.finish") finishes[line.change.record].push_back(parse_stamp(field.text)->at);
  }
  std::map<Id, const std::map<std::string, ModelGroup>*> groups_of;
  for (const auto& [key, groups] : state) groups_of[key.second] = &groups;
  for (const auto& [key, groups] : state) {
    if (beds.count(key.second) == 0) continue;
    if (waits.count(key.second) == 0 && left_out(journal, ancestry, groups) &&
        !given_up_for_none(journal, groups_of, key.second)) {
      finishes.erase(key.second);
      continue;
    }
    const auto when = groups.find("when");
    if (when == groups.end()) continue;
    for (const Hash& head : when->second.heads)
      finishes[key.second].push_back(parse_stamp(text_in(journal.at(head).change.fields, "when.finish"))->at);
  }
  std::map<Id, Moment> latest;
  for (const auto& [dose, all] : finishes)
    if (beds.count(dose) > 0)  // Of a dose whose beginning is not here nobody can say where it was.
      for (const Moment at : all) latest[beds.at(dose)] = std::max(latest[beds.at(dose)], at);
  return latest;
}

class WaitHistory {
 public:
  explicit WaitHistory(std::uint64_t seed) : chance_(seed) {
    marek_.checks = begin_checks;
    marek_.open();
    hand(farm_.ana.copy, marek_);
    exchange(farm_.ana.copy, farm_.office);
    exchange(farm_.ana.copy, marek_);
    doses_.push_back(farm_.dose);
  }
  void run() {
    for (int i = 0; i < 40; ++i) step(*copies_[chance_.below(3)]);
    for (int round = 0; round < 2; ++round)
      for (std::size_t i = 0; i < 3; ++i) hand(*copies_[i], *copies_[(i + 1) % 3]);
    for (Copy* copy : copies_) check(*copy);
    CHECK(farm_.both_agree());
    CHECK(farm_.wait_end(farm_.office) == farm_.wait_end(marek_));
  }
  std::size_t in_doubt = 0, checked = 0, given_up = 0;

 private:
  std::vector<FieldValue> when() {
    const Moment start = at("2026-05-14T12:00:00-04:00").at + static_cast<std::int64_t>(chance_.below(240)) * kMinute;
    return {instant_value("when.start", {start, -240}), instant_value("when.finish", {start + 5 * kMinute, -240})};
  }
  void step(Copy& copy) {
    Book& book = *copy.book;
    const Id dose = doses_[chance_.below(doses_.size())];
    const bool here = book.kind_of(dose) == "dose";
    Copy& to = *copies_[chance_.below(3)];
    switch (chance_.below(10)) {
      case 0: {
        auto fields = Farm2::what(farm_.load, farm_.ana.beds[chance_.below(2)], "0 ft", "100 ft",
                                  not_taken("what.volume"), "done");
        for (FieldValue& field : when()) fields.push_back(std::move(field));
        doses_.push_back(add(book, "dose", std::move(fields)));
        break;
      }
      case 1:
      case 2:
        if (here) edit(book, dose, when());
        break;
      case 3:
        if (here) edit(book, dose, {text_field_value("note", "n" + std::to_string(chance_.below(9)))});
        break;
      case 4:
        if (!here) break;
        if (struck(copy, dose).empty())
          strike_on(copy, dose, "logged twice");
        else
          edit(book, dose, {not_taken("struck")});
        break;
      case 5:
      case 6:
        if (&to != &copy) hand(copy, to);
        break;
      case 7: {  // Only what the other lacks, and sometimes one such file too few.
        if (&to == &copy) break;
        GiveRequest request;
        request.lacking_at = to.book->copy();
        if (chance_.one_in(2)) {
          for (Book::Peer peer : got(book.peers())) {
            if (peer.copy != to.book->copy()) continue;
            peer.tips = tips_of(book);
            REQUIRE(book.note_peer(peer));
            if (here) edit(book, dose, when());
          }
        }
        hand(copy, to, request);
        break;
      }
      case 8:
      case 9:
        if (here) give_up(copy, dose);
        break;
    }
    check(to);
    check(copy);
  }
  /// 'The same work' as another entry of its bed, which this copy holds for standing.
  void give_up(Copy& copy, const Id& dose) {
    const auto stands = [&](const Id& id) { return copy.book->kind_of(id) == "dose" && struck(copy, id).empty(); };
    const std::string bed = text_of(*copy.book, dose, "what.bed");
    const std::size_t from = chance_.below(doses_.size());
    for (std::size_t k = 0; stands(dose) && k < doses_.size(); ++k) {
      const Id& kept = doses_[(from + k) % doses_.size()];
      if (kept == dose || !stands(kept) || text_of(*copy.book, kept, "what.bed") != bed) continue;
      done(answer_same_bed_twice(*copy.book, {dose, kept, TwiceAnswer::SameWork, kept, {}, true, {}}, {}));
      ++given_up;
      return;
    }
  }
  void check(const Copy& copy) {
    const auto latest = latest_finishes(*copy.book);
    const BedStates states = farm_.states(copy);
    for (std::size_t bed = 0; bed < 2; ++bed) {
      const auto wanted = latest.find(farm_.ana.beds[bed]);
      if (wanted == latest.end()) continue;
      const Hold& hold = states.beds[bed].harvest.hold;
      in_doubt += static_cast<std::size_t>(hold.to_settle);
      ++checked;
      const bool unknown = hold.state == Hold::State::NotKnown;
      const bool long_enough = unknown || (hold.until && *hold.until >= wanted->second + kDay);
      CHECK(long_enough);
      // And nothing is held that nobody wrote: the latest of all readings is the end.
      if (!unknown && hold.until) CHECK(*hold.until == on_the_minute(wanted->second + kDay));
    }
  }

  Chance chance_;
  Farm2 farm_;
  Copy marek_{"Marek's phone", 3};
  Copy* const copies_[3] = {&farm_.ana.copy, &farm_.office, &marek_};
  std::vector<Id> doses_;
};

}  // namespace

TEST_CASE("random histories of doses: no wait ends early on any copy (I19)") {
  const char* text = std::getenv("STEEPBOOK_HISTORIES");
  const std::uint64_t count = (text == nullptr ? 60 : std::strtoull(text, nullptr, 10)) / 20 + 1;
  std::size_t in_doubt = 0, checked = 0, given_up = 0;
  for (std::uint64_t seed = 1; seed <= count; ++seed) {
    CAPTURE(seed);
    WaitHistory history(seed);
    history.run();
    in_doubt += history.in_doubt;
    checked += history.checked;
    given_up += history.given_up;
  }
  MESSAGE(count, " histories, ", checked, " waits checked, ", in_doubt, " entries in doubt among them, ", given_up,
          " given up for another");
  CHECK(in_doubt > 0);
}
