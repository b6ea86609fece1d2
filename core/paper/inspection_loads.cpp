/// Each pass's tankfuls: what went in, what is known of the tank before, and what became of the rest.
#include "base/text.h"
#include "book/told.h"
#include "paper/inspection_parts.h"

namespace steep {
namespace {

std::string amount(const PaperSheet& sheet, const Taken<Volume>& volume) {
  if (volume) return show(*volume, sheet.units, sheet.words);
  return volume.is_not_taken() ? sheet.not_taken() : sheet.words("paper.not_written"_w);
}

std::vector<std::string> went_in(const PaperSheet& sheet, const ReportLoad& load) {
  const Words& words = sheet.words;
  const Load& facts = load.sheet.load;
  std::vector<std::string> pieces;
  if (!facts.brew.is_nil())
    pieces.push_back(words("paper.load.brew"_w, {amount(sheet, facts.tea), load.brew_code}));
  else if (facts.tea && facts.tea->si() > 0)
    pieces.push_back(words("paper.load.tea"_w, {amount(sheet, facts.tea)}));
  if (!load.water.empty())
    pieces.push_back(words("paper.load.water_from"_w, {amount(sheet, facts.water), load.water}));
  else if (facts.water || facts.water.is_not_taken())
    pieces.push_back(words("paper.load.water"_w, {amount(sheet, facts.water)}));
  for (const ReportProduct& product : load.products) pieces.push_back(product_text(sheet, product));
  const Volume stayed = load.sheet.stayed_tea + load.sheet.stayed_water;
  if (stayed.si() > 0) pieces.push_back(words("paper.load.stayed"_w, {show(stayed, sheet.units, words)}));
  return pieces;
}

std::string tank_before(const PaperSheet& sheet, const Load& load) {
  const Words& words = sheet.words;
  std::vector<std::string> pieces = {
      words("paper.load.before"_w,
            {load.before_held ? held_text(*load.before_held, words) : words("paper.how.not_known"_w)})};
  if (load.before_cleaned)
    pieces.push_back(words(*load.before_cleaned ? "paper.load.cleaned"_w : "paper.load.not_cleaned"_w));
  return join(pieces, ", ");
}

std::string load_text(const PaperSheet& sheet, const ReportPass& pass, const ReportLoad& load) {
  const Words& words = sheet.words;
  const Load& facts = load.sheet.load;
  const std::vector<std::string> in = went_in(sheet, load);
  std::vector<std::string> pieces = {in.empty() ? words("paper.nothing_written"_w) : join(in, ", ")};
  if (facts.filled)
    pieces.push_back(words("paper.load.filled"_w, {sheet.clock_since(pass.pass.start.at, facts.filled->at)}));
  if (facts.left || facts.left.is_not_taken())
    pieces.push_back(words("paper.load.left"_w, {amount(sheet, facts.left)}));
  for (const ReportPoured& poured : load.poured)
    pieces.push_back(words("paper.load.poured"_w, {poured_text(sheet, poured)}));
  if (facts.before_held || facts.before_held.is_not_taken() || facts.before_cleaned)
    pieces.push_back(tank_before(sheet, facts));
  if (std::string reason = sheet.reason_given(facts.id); !reason.empty()) pieces.push_back(std::move(reason));
  return words("paper.load"_w, {std::to_string(facts.number), join(pieces, " · ")});
}

}  // namespace

std::string poured_text(const PaperSheet& sheet, const ReportPoured& poured) {
  std::vector<std::string> pieces = {amount(sheet, poured.discard.volume)};
  if (!poured.place_kind.empty()) pieces.push_back(kind_and_name(poured.place_kind, poured.place, sheet.words));
  if (!poured.discard.words.empty()) pieces.push_back(poured.discard.words);
  return join(pieces, ", ");
}

void loads_of_pass(Html& html, const PaperSheet& sheet, const ReportPass& pass) {
  for (const ReportLoad& load : pass.loads) html.leaf("p", load_text(sheet, pass, load), {{"class", "note"}});
}

}  // namespace steep
