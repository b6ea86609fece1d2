#include "book/same_bed.h"

#include <algorithm>
#include <span>
#include <unordered_map>

#include "book/bed_states.h"
#include "book/called.h"
#include "book/codes.h"
#include "book/dose_scan.h"
#include "book/rows.h"
#include "book/same_ground.h"

namespace steep {
namespace {

Result<std::vector<DosePair>> pairs_of(const Book& book, const std::vector<RawDose>& doses) {
  std::unordered_map<Id, Id> passes;
  Query query = book.db().query("SELECT uid, pass FROM k_load");
  while (query.next()) passes[query.id(0)] = query.id(1);
  TRY(query.done());
  std::vector<DosePair> pairs;
  const auto pass_of = [&](const Id& load) {
    const auto found = passes.find(load);
    return found == passes.end() ? load : found->second;
  };
  for (const auto& [a, b] : find_pairs(std::span<const RawDose>(doses), pass_of))
    pairs.push_back({doses[a].bed, doses[a].id, doses[b].id});
  return pairs;
}

/// Does it tell of that farm's ground, or stand in its part?
bool concerns(const Book& book, const SameGround& same, const DosePair& pair, const Id& farm) {
  std::vector<Id> records = same.same(pair.bed);
  records.push_back(pair.first);
  records.push_back(pair.second);
  return std::any_of(records.begin(), records.end(), [&](const Id& id) { return farm_of(book, id) == farm; });
}

}  // namespace

Result<std::vector<DosePair>> same_bed_pairs(const Book& book, const std::optional<Id>& farm) {
  TRY_ASSIGN(const SameGround& same, SameGround::read(book));
  TRY_ASSIGN(const std::vector<Id>& beds, beds_done_twice_at_once(book, same));
  TRY_ASSIGN(const std::vector<RawDose>& doses, scan_doses_on(book, same, beds));
  TRY_ASSIGN(std::vector<DosePair> pairs, pairs_of(book, doses));
  if (farm) std::erase_if(pairs, [&](const DosePair& pair) { return !concerns(book, same, pair, *farm); });
  return pairs;
}

Result<std::vector<DosePair>> same_bed_pairs_on(const Book& book, const Id& bed) {
  TRY_ASSIGN(const SameGround& same, SameGround::read(book));
  TRY_ASSIGN(const std::vector<RawDose>& doses, scan_doses_on(book, same, same.same(bed)));
  return pairs_of(book, doses);
}

namespace {

Result<TwiceEntry> twice_entry(const Book& book, const Codes& codes, const Id& id) {
  TwiceEntry entry;
  TRY_ASSIGN(entry.dose, read_dose(book, id));
  entry.copy = lane_label(book, entry.dose.lane);
  TRY_ASSIGN(const Load& load, read_load(book, entry.dose.load));
  entry.load_number = load.number;
  entry.pass_code = codes.text(load.pass);
  TRY_ASSIGN(const Pass& pass, read_pass(book, load.pass));
  entry.who = called_name(book, entry.dose.made_by);
  if (entry.who.empty() && !pass.people.empty()) entry.who = called_name(book, pass.people.front());
  TRY_ASSIGN(const std::vector<LoadSheet>& sheets, load_sheets(book, pass));
  for (const LoadSheet& sheet : sheets)
    for (std::size_t i = 0; i < sheet.doses.size(); ++i)
      if (sheet.doses[i].id == id) entry.volume = sheet.volumes[i];
  return entry;
}

}  // namespace

Result<TwiceSheet> twice_sheet(const Book& book, const Id& first, const Id& second, Moment now) {
  TwiceSheet sheet;
  TRY_ASSIGN(const Codes& codes, Codes::read(book));
  TRY_ASSIGN(sheet.first, twice_entry(book, codes, first));
  TRY_ASSIGN(sheet.second, twice_entry(book, codes, second));
  TRY_ASSIGN(sheet.bed, read_bed(book, sheet.first.dose.bed));
  TRY_ASSIGN(sheet.farm, read_farm(book, sheet.bed.farm));
  const Stretch a = sheet.first.dose.stretch(), b = sheet.second.dose.stretch();
  sheet.overlap = {std::max(a.from, b.from), std::min(a.to, b.to)};
  const auto end = [](const Dose& dose) { return dose.finish ? dose.finish->at : dose.made.at; };
  const auto begin = [&](const Dose& dose) { return dose.start ? std::min(dose.start->at, end(dose)) : end(dose); };
  sheet.overlap_from = std::max(begin(sheet.first.dose), begin(sheet.second.dose));
  sheet.overlap_to = std::min(end(sheet.first.dose), end(sheet.second.dose));
  TRY_ASSIGN(const BedStates& states, bed_states(book, sheet.farm.id, now));
  if (const BedState* state = states.bed(sheet.bed.id)) {
    sheet.entry = state->entry.hold;
    sheet.harvest = state->harvest.hold;
    sheet.crops = state->crops;
  }
  return sheet;
}

}  // namespace steep
