#include "book/bed_page.h"

#include <algorithm>
#include <map>
#include <set>

#include "base/sorting.h"
#include "book/dose_scan.h"
#include "book/doubts.h"
#include "book/rows.h"
#include "book/same_bed.h"
#include "book/same_ground.h"
#include "book/strike.h"
#include "book/tables.h"
#include "book/totals.h"
#include "book/wait_rules.h"

namespace steep {
namespace {

Result<void> mark_struck(const Book& book, const RecordFacts& facts, BedLine& line) {
  line.struck = facts.struck;
  line.undone = facts.struck == kUndone;
  line.differs = !facts.differs.empty();
  if (!facts.is_struck()) return {};
  TRY_ASSIGN(const std::optional<Record>& record, book.record(facts.id));
  if (const Head* strike = record ? strike_of(*record) : nullptr) {
    line.struck_by = called_name(book, strike->person);
    line.struck_at = Moment{strike->wall};
  }
  return {};
}

struct PageWork {
  const Book& book;
  BedPage& page;
  const WaitRules& rules;
  Codes codes;
  std::map<Id, std::vector<LoadSheet>> sheets;  // by pass
  std::map<Id, Pass> passes;
};

Result<const std::vector<LoadSheet>*> sheets_of(PageWork& work, const Id& pass) {
  auto found = work.sheets.find(pass);
  if (found == work.sheets.end()) {
    std::vector<LoadSheet> sheets;
    if (auto of = read_pass(work.book, pass)) {
      TRY_ASSIGN(sheets, load_sheets(work.book, *of));
      work.passes[pass] = std::move(*of);
    }
    found = work.sheets.emplace(pass, std::move(sheets)).first;
  }
  return &found->second;
}

Result<void> fill_dose(PageWork& work, const Dose& dose, const GroundSource& place, BedLine& line) {
  line.record = dose.id;
  line.at = dose.finish ? dose.finish->at : dose.made.at;
  line.stretch = dose.from && dose.to ? place.moved(dose.stretch()) : work.page.state.bed.whole();
  const Stretch whole = work.page.state.bed.whole();
  line.part = line.stretch.from.si() > whole.from.si() + kOneCentimeter ||
              line.stretch.to.si() < whole.to.si() - kOneCentimeter;
  line.reason = dose.note;
  const TankFacts& tank = work.rules.tank(dose.load);
  line.load_number = tank.number;
  line.aim = tank.aims.empty() ? Aim::Leaf : tank.aims.front();
  line.kind = dose.is_skipped() ? BedLineKind::Skipped : tank.has_tea ? BedLineKind::Tea : BedLineKind::Spray;
  line.who = called_name(work.book, dose.made_by);
  if (!tank.known) return {};
  line.pass = tank.pass;
  line.pass_code = work.codes.text(tank.pass);
  if (!tank.brew.is_nil()) line.brew_code = work.codes.text(tank.brew);
  for (const Id& lot : tank.lots)
    if (const std::string& name = work.rules.material_name(work.rules.material_of(lot)); !name.empty())
      line.materials.push_back(name);
  TRY_ASSIGN(const std::vector<LoadSheet>* sheets, sheets_of(work, tank.pass));
  for (const LoadSheet& sheet : *sheets)
    for (std::size_t i = 0; i < sheet.doses.size(); ++i)
      if (sheet.doses[i].id == dose.id) line.volume = sheet.volumes[i];
  if (const auto pass = work.passes.find(tank.pass); pass != work.passes.end() && !pass->second.people.empty())
    line.who = called_name(work.book, pass->second.people.front());
  if (dose.is_skipped() || dose.is_struck()) return {};
  Treatment treatment;
  treatment.finishes = {line.at};
  treatment.entry = work.rules.entry(tank);
  if (!treatment.entry.empty()) line.entry = work.rules.entry_hold({treatment});
  return {};
}

/// A dose belongs to the season of its own day; one in question that totals leave out is not summed.
void add_season(PageWork& work, const BedLine& line, const std::set<Id>& left_out, std::set<Id>& tea,
                std::set<Id>& other) {
  if (line.kind != BedLineKind::Tea && line.kind != BedLineKind::Spray) return;
  SeasonSums& season = work.page.season;
  if (!line.struck.empty() || line.at > work.page.at || work.page.farm.day(line.at).year != season.year ||
      left_out.count(line.record) != 0)
    return;
  season.estimated += line.volume.is_estimate() || !line.volume.spray;
  const Volume spray = line.volume.spray.value_or(Volume{});
  if (line.kind == BedLineKind::Tea) {
    tea.insert(line.pass);
    season.tea_spray += spray;
    season.tea += line.volume.tea.value_or(Volume{});
  } else {
    other.insert(line.pass);
    season.other_spray += spray;
  }
}

using FoundLines = std::vector<std::pair<RecordFacts, BedLine>>;

/// Marks what is struck and puts the lines into the history; only after their query has ended.
Result<void> add_found(PageWork& work, FoundLines found) {
  for (auto& [facts, line] : found) {
    TRY(mark_struck(work.book, facts, line));
    work.page.history.push_back(std::move(line));
  }
  return {};
}

/// One line a row, by whoever wrote it and when it was made; `fill` says the rest.
template <class Fill>
Result<void> add_lines(PageWork& work, Rows& rows, BedLineKind kind, Fill fill) {
  FoundLines found;
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    BedLine line;
    line.kind = kind;
    line.record = facts.id;
    line.who = called_name(work.book, facts.made_by);
    fill(facts, line);
    found.emplace_back(facts, std::move(line));
  }
  TRY(rows.done());
  return add_found(work, std::move(found));
}

Result<void> add_harvests(PageWork& work, const Id& bed, const std::string& name, bool earlier) {
  Rows rows(work.book, "harvest", "WHERE bed = ?");
  rows.query().bind(1, bed);
  return add_lines(work, rows, BedLineKind::Harvest, [&](const RecordFacts& facts, BedLine& line) {
    line.at = rows.instant("at").value_or(facts.made).at;
    line.amount = rows.written("amount");
    line.code = rows.text("code");
    if (const Id by = rows.reference("by"); !by.is_nil()) line.who = called_name(work.book, by);
    line.earlier_bed = earlier;
    line.bed_name = name;
  });
}

Result<void> add_plantings(PageWork& work, const Id& bed, const std::string& name, bool earlier) {
  Rows rows(work.book, "planting", "WHERE bed = ?");
  rows.query().bind(1, bed);
  FoundLines found;
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    BedLine line;
    line.record = facts.id;
    line.crop = rows.text("crop");
    line.plants = rows.number("plants");
    line.who = called_name(work.book, facts.made_by);
    line.earlier_bed = earlier;
    line.bed_name = name;
    const auto sown = rows.date("sown"), planted = rows.date("planted"), ended = rows.date("ended");
    const auto begun = sown && planted ? std::min(sown, planted) : sown ? sown : planted;
    line.kind = BedLineKind::Planted;
    line.at = begun ? work.page.farm.zone.start_of(*begun) : facts.made.at;
    found.emplace_back(facts, line);
    if (!ended) continue;
    line.kind = BedLineKind::Ended;
    line.at = work.page.farm.zone.start_of(*ended);
    found.emplace_back(facts, std::move(line));
  }
  TRY(rows.done());
  return add_found(work, std::move(found));
}

Result<void> add_notes_and_holds(PageWork& work, const Id& bed) {
  Rows notes(work.book, "note", "WHERE \"of\" = ?");
  notes.query().bind(1, bed);
  TRY(add_lines(work, notes, BedLineKind::Note, [&](const RecordFacts& facts, BedLine& line) {
    line.at = notes.instant("at").value_or(facts.made).at;
    line.reason = notes.text("text");
  }));
  Rows holds(work.book, "hold", "WHERE bed = ?");
  holds.query().bind(1, bed);
  TRY(add_lines(work, holds, BedLineKind::HoldSet, [&](const RecordFacts& facts, BedLine& line) {
    line.at = facts.happened();
    line.reason = holds.text("why");
  }));
  Rows releases(work.book, "release", "WHERE hold IN (SELECT uid FROM k_hold WHERE bed = ?)");
  releases.query().bind(1, bed);
  return add_lines(work, releases, BedLineKind::Released, [&](const RecordFacts& facts, BedLine& line) {
    line.at = releases.instant("at").value_or(facts.made).at;
    line.reason = releases.text("why");
  });
}

}  // namespace

Result<BedPage> bed_page(const Book& book, const Id& bed, Moment at) {
  TRY_ASSIGN(const Bed& asked, read_bed(book, bed));
  TRY_ASSIGN(const BedStates& states, bed_states(book, asked.farm, at));
  BedPage page;
  page.at = at;
  page.farm = states.places.farm;
  page.season.year = states.today.year;
  if (const BedState* state = states.bed(bed)) {
    page.state = *state;
  } else {
    // A bed whose time is over: nothing holds it, its history stays.
    page.state.bed = asked;
  }
  TRY_ASSIGN(const Doubts& doubts, Doubts::read(book));
  TRY_ASSIGN(const WaitRules& rules, WaitRules::read(book, page.farm, doubts, states.places.same));
  TRY_ASSIGN(Codes codes, Codes::read(book));
  PageWork work{book, page, rules, std::move(codes), {}, {}};
  const std::vector<GroundSource> sources = states.places.same.sources(page.state.bed.id);
  std::vector<DosePair> pairs;
  for (const GroundSource& source : sources) {
    TRY_ASSIGN(const std::vector<DosePair>& of, same_bed_pairs_on(book, source.bed));
    pairs.insert(pairs.end(), of.begin(), of.end());
  }
  const std::set<Id> left_out = left_out_of_totals(pairs);
  std::set<Id> tea, other;
  for (const GroundSource& place : sources) {
    const Id& source = place.bed;
    const bool earlier = source != page.state.bed.id;
    const std::string name = record_name(book, source);
    TRY_ASSIGN(const std::vector<Dose>& doses, doses_on_bed(book, source, Struck::Include));
    for (const Dose& dose : doses) {
      if (!place.whole && place.moved(dose.stretch()).length().si() <= 0) continue;
      BedLine line;
      TRY(fill_dose(work, dose, place, line));
      TRY(mark_struck(book, dose, line));
      line.earlier_bed = earlier;
      line.bed_name = name;
      for (const DosePair& pair : pairs)
        line.in_question = line.in_question || pair.first == dose.id || pair.second == dose.id;
      add_season(work, line, left_out, tea, other);
      page.history.push_back(std::move(line));
    }
    TRY(add_harvests(work, source, name, earlier));
    TRY(add_plantings(work, source, name, earlier));
    TRY(add_notes_and_holds(work, source));
  }
  page.season.tea_passes = static_cast<int>(tea.size());
  page.season.other_passes = static_cast<int>(other.size());
  sort_list(page.history,
            [](const BedLine& a, const BedLine& b) { return a.at != b.at ? a.at > b.at : a.record > b.record; });
  return page;
}

}  // namespace steep
