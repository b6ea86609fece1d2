#include <cmath>

#include "base/sorting.h"
#include "base/text.h"
#include "book/told.h"
#include "paper/inspection_parts.h"

namespace steep {
namespace {

std::string stamp(const PaperSheet& sheet, const Taken<Stamp>& at) {
  return at ? sheet.when(at->at) : at.is_not_taken() ? sheet.not_taken() : sheet.words("paper.not_written"_w);
}

/// The day, and the clock below it.
std::vector<std::string> stamp_lines(const PaperSheet& sheet, const Taken<Stamp>& at) {
  return at ? sheet.span(at->at, at->at) : std::vector{stamp(sheet, at)};
}

std::string volume(const PaperSheet& sheet, const std::optional<Volume>& amount) {
  return amount ? show(*amount, sheet.units, sheet.words) : sheet.words("paper.volume_not_known"_w);
}

/// ' (written 14 May 2026, 8:10 pm, reason: read from the board)': what stands beside a value, if anything.
std::string beside(const PaperSheet& sheet, const RecordFacts& facts, const Taken<Stamp>& at) {
  std::vector<std::string> pieces;
  if (is_late(facts, at ? at->at : facts.made.at)) pieces.push_back(sheet.written(facts));
  if (std::string reason = sheet.reason_given(facts.id); !reason.empty()) pieces.push_back(std::move(reason));
  return pieces.empty() ? std::string() : " (" + join(pieces, ", ") + ")";
}

std::vector<std::string> ingredients(const PaperSheet& sheet, const BrewSheet& brew) {
  std::vector<std::string> lines;
  for (std::size_t i = 0; i < brew.lines.size(); ++i) {
    const Lot* lot = i < brew.lots.size() ? &brew.lots[i] : nullptr;
    const auto& amount = brew.lines[i].amount;
    lines.push_back(
        (amount ? show_both(*amount, sheet.units, sheet.words) : sheet.not_taken()) + " " +
        (lot ? lot->material_name + (lot->code.empty() ? "" : " " + sheet.words("paper.lot"_w, {lot->code})) : "") +
        beside(sheet, brew.lines[i], {}));
  }
  return lines;
}

std::string value(const PaperSheet& sheet, const Reading& reading) {
  if (reading.not_taken) return sheet.not_taken();
  if (reading.value) return show(*reading.value, sheet.units, sheet.words);
  if (reading.number) return show_number(*reading.number, sheet.units);
  return sheet.words.stored("brew.word." + reading.word, reading.word);
}

/// What was read, or done to the brew.
struct Happened {
  std::optional<Moment> at;
  std::string text;
};

/// 'fed 1/2 cup, molasses'
std::string event_text(const PaperSheet& sheet, const BrewEvent& event) {
  std::string text = sheet.words.stored("word." + event.what, event.what);
  if (event.amount) text += " " + show_both(*event.amount, sheet.units, sheet.words);
  if (!event.note.empty()) text += ", " + event.note;
  return text + beside(sheet, event, event.at);
}

/// In the order of their times; what has none comes last.
std::vector<Happened> happened(const PaperSheet& sheet, const BrewSheet& brew) {
  const auto time = [](const Taken<Stamp>& at) { return at ? std::optional(at->at) : std::nullopt; };
  std::vector<Happened> all;
  for (const Reading& reading : brew.readings)
    all.push_back({time(reading.at), sheet.words.stored("brew.quantity." + reading.quantity, reading.quantity) + " " +
                                         value(sheet, reading) + beside(sheet, reading, reading.at)});
  for (const BrewEvent& event : brew.events) all.push_back({time(event.at), event_text(sheet, event)});
  sort_list(all, [](const Happened& a, const Happened& b) { return a.at && (!b.at || *a.at < *b.at); });
  return all;
}

/// '6:40 pm Temperature 61 °F, Oxygen 8.9 mg/L; 9:10 pm …': a time once for all that was read then, a day once until
/// the next.
std::string readings(const PaperSheet& sheet, const BrewSheet& brew) {
  const Taken<Stamp>& begun = brew.brew.met_water ? brew.brew.met_water : brew.brew.air_on;
  Moment before = begun ? begun->at : brew.brew.made.at;
  std::string text, time_before;
  for (const Happened& one : happened(sheet, brew)) {
    const std::string time = one.at ? sheet.clock_since(before, *one.at) : "";
    const bool same_time = !text.empty() && time == time_before;
    if (!text.empty()) text += same_time ? ", " : "; ";
    if (!same_time && !time.empty()) text += time + " ";
    text += one.text;
    if (one.at) before = *one.at;
    time_before = one.at ? sheet.clock(*one.at) : "";
  }
  return text;
}

/// When compost met water; also when that was written, if not then.
void met_water_cell(Html& html, const PaperSheet& sheet, const Brew& brew) {
  std::vector<std::string> lines = stamp_lines(sheet, brew.met_water);
  const std::size_t kept = lines.size();
  if (brew.met_water && is_late(brew, brew.met_water->at)) lines.push_back("(" + sheet.written(brew) + ")");
  lines_cell(html, lines, kept);
}

std::string code(const PaperSheet& sheet, const BrewSheet& brew) {
  const std::string reason = sheet.reason_given(brew.brew.id);
  return reason.empty() ? brew.code : brew.code + " (" + reason + ")";
}

/// 'on 14 May 2026', '6:05 am', 'off 15 May 2026', '6:10 am'
std::vector<std::string> air(const PaperSheet& sheet, const Brew& brew) {
  std::vector<std::string> on = stamp_lines(sheet, brew.air_on), off = stamp_lines(sheet, brew.air_off);
  on.front() = sheet.words("paper.air_on"_w, {on.front()});
  off.front() = sheet.words("paper.air_off"_w, {off.front()});
  on.insert(on.end(), off.begin(), off.end());
  return on;
}

/// Its source, and what was done to it before.
std::string water(const PaperSheet& sheet, const BrewSheet& brew) {
  const Brew& facts = brew.brew;
  if (facts.treatment.empty() || facts.treatment == "none") return brew.water_name;
  std::vector<std::string> pieces = {brew.water_name, sheet.words.stored("word." + facts.treatment, facts.treatment)};
  if (facts.treatment_from && facts.treatment_to)
    for (std::string& line : sheet.span(facts.treatment_from->at, facts.treatment_to->at))
      pieces.push_back(std::move(line));
  return join(pieces, ", ");
}

/// Filled = loaded + poured out + left, as far as volumes were written; a line each.
std::vector<std::string> balance(const PaperSheet& sheet, const BrewBalance& balance) {
  // What arithmetic leaves of nothing is nothing: '0 gal', not '0 fl oz'.
  const auto said = [&](WordId word, std::optional<Volume> amount) {
    if (amount && std::abs(amount->milliliters()) < 1) amount = Volume{};
    return sheet.words(word, {volume(sheet, amount)});
  };
  std::vector<std::string> lines = {
      said("paper.filled"_w, balance.filled.maybe()), said("paper.loaded"_w, balance.loaded),
      said("paper.poured"_w, balance.discarded),
      said(balance.volume_missing ? "paper.left_at_most"_w : "paper.left"_w, balance.left)};
  if (balance.is_overdrawn()) lines.push_back(sheet.words("paper.overdrawn"_w));
  return lines;
}

std::string verdict(const PaperSheet& sheet, const BrewSheet& brew) {
  if (brew.brew.verdict.empty()) return sheet.words("paper.not_written"_w);
  std::vector<std::string> pieces = {sheet.words.stored("brew.verdict." + brew.brew.verdict, brew.brew.verdict)};
  if (!brew.verdict_by_name.empty()) pieces.push_back(brew.verdict_by_name);
  if (!brew.brew.verdict_why.empty()) pieces.push_back(brew.brew.verdict_why);
  return join(pieces, ", ");
}

void brew_row(Html& html, const PaperSheet& sheet, const ReportBrew& brew) {
  const BrewSheet& made = brew.sheet;
  html.open("tr");
  lines_cell(html, {code(sheet, made), made.recipe_name, made.vessel_name});
  met_water_cell(html, sheet, made.brew);
  lines_cell(html, air(sheet, made.brew), kAllKept);
  lines_cell(html, ingredients(sheet, made));
  html.leaf("td", water(sheet, made)).leaf("td", readings(sheet, made));
  lines_cell(html, balance(sheet, made.balance));
  std::vector<std::string> poured;
  for (const ReportPoured& one : brew.poured) poured.push_back(poured_text(sheet, one));
  html.leaf("td", join(poured, "; ")).leaf("td", verdict(sheet, made)).leaf("td", join(brew.used_in, ", ")).close("tr");
}

}  // namespace

void brews_part(Html& html, const PaperSheet& sheet) {
  if (sheet.data.brews.empty()) return;
  html.leaf("h2", sheet.words("paper.brews_title"_w));
  table_head(html, sheet.words,
             {"paper.col.brew"_w, "paper.col.met_water"_w, "paper.col.air"_w, "paper.col.lots"_w, "paper.col.water"_w,
              "paper.col.readings"_w, "paper.col.balance"_w, "paper.col.poured"_w, "paper.col.verdict"_w,
              "paper.col.used_in"_w},
             "brews");
  html.open("tbody");
  for (const ReportBrew& brew : sheet.data.brews) brew_row(html, sheet, brew);
  html.close("tbody").close("table");
}

void washes_part(Html& html, const PaperSheet& sheet) {
  if (sheet.data.washes.empty()) return;
  html.leaf("h2", sheet.words("paper.washes"_w));
  table_head(html, sheet.words,
             {"paper.col.when"_w, "paper.col.of"_w, "paper.col.held"_w, "paper.col.how"_w, "paper.col.rinsed"_w,
              "paper.col.by"_w});
  html.open("tbody");
  for (const ReportWash& wash : sheet.data.washes) {
    const auto& rinsed = wash.wash.rinsed;
    const std::string how =
        wash.wash.strength.empty() ? wash.wash.method : wash.wash.method + ", " + wash.wash.strength;
    html.open("tr")
        .leaf("td", stamp(sheet, wash.wash.at) + beside(sheet, wash.wash, wash.wash.at))
        .leaf("td", wash.of)
        .leaf("td", held_text(wash.wash.held, sheet.words))
        .leaf("td", how);
    html.leaf("td", rinsed ? sheet.words(*rinsed ? "paper.yes"_w : "paper.no"_w) : sheet.words("paper.not_written"_w));
    html.leaf("td", wash.by).close("tr");
  }
  html.close("tbody").close("table");
}

namespace {

std::string hold_place(const PaperSheet& sheet, const ReportHold& hold) {
  const std::string bed = hold.bed.empty() ? sheet.words("paper.bed_not_here"_w) : hold.bed;
  if (!hold.hold.from || !hold.hold.to) return bed;
  return bed + ", " + sheet.stretch({*hold.hold.from, *hold.hold.to});
}

std::string hold_what(const Words& words, const HandHold& hold) {
  return words.stored(hold.harvest && hold.entry ? "word.both" : hold.entry ? "word.entry" : "word.harvest", "");
}

/// Who let it go, when and why; each on its own.
std::string releases(const PaperSheet& sheet, const ReportHold& hold) {
  std::vector<std::string> texts;
  for (std::size_t i = 0; i < hold.releases.size(); ++i) {
    const Release& release = hold.releases[i];
    texts.push_back(join(std::vector<std::string>{sheet.when(release.at ? release.at->at : release.made.at),
                                                  hold.released_by[i], release.why},
                         ", "));
  }
  return join(texts, "; ");
}

}  // namespace

void holds_part(Html& html, const PaperSheet& sheet) {
  if (sheet.data.holds.empty()) return;
  const Words& words = sheet.words;
  html.leaf("h2", words("paper.holds"_w));
  table_head(html, words,
             {"paper.col.when"_w, "paper.col.bed"_w, "paper.col.held_what"_w, "paper.col.until"_w, "paper.col.reason"_w,
              "paper.col.by"_w, "paper.col.released"_w});
  html.open("tbody");
  for (const ReportHold& hold : sheet.data.holds) {
    const auto& until = hold.hold.until;
    html.open("tr").leaf("td", sheet.when(hold.hold.happened())).leaf("td", hold_place(sheet, hold));
    html.leaf("td", hold_what(words, hold.hold));
    html.leaf("td", until ? sheet.when(until->at) : words("paper.until_released"_w));
    html.leaf("td", hold.hold.why).leaf("td", hold.by).leaf("td", releases(sheet, hold)).close("tr");
  }
  html.close("tbody").close("table");
}

void harvests_part(Html& html, const PaperSheet& sheet) {
  if (sheet.data.harvests.empty()) return;
  html.leaf("h2", sheet.words("paper.harvests"_w));
  table_head(html, sheet.words,
             {"paper.col.when"_w, "paper.col.bed"_w, "paper.col.crop"_w, "paper.col.amount"_w, "paper.col.code"_w,
              "paper.col.by"_w, "paper.col.sold"_w, "paper.col.record_shows"_w});
  html.open("tbody");
  for (const ReportHarvest& harvest : sheet.data.harvests) {
    std::vector<std::string> sold;
    for (const Sale& sale : harvest.sales)
      sold.push_back((sale.amount ? show(*sale.amount, sheet.units, sheet.words) + " " : "") + sale.to);
    const Harvest& facts = harvest.harvest;
    html.open("tr").leaf("td", sheet.when(facts.at.at) + beside(sheet, facts, Taken<Stamp>(facts.at)));
    html.leaf("td", harvest.bed).leaf("td", harvest.crop);
    html.leaf("td", harvest.harvest.amount ? show_both(*harvest.harvest.amount, sheet.units, sheet.words)
                                           : sheet.not_taken());
    html.leaf("td", harvest.harvest.code).leaf("td", harvest.by).leaf("td", join(sold, "; "));
    const auto inside = static_cast<long long>(harvest.inside_wait_of.size());
    html.leaf("td", inside > 0 ? sheet.words.count("paper.inside_wait"_w, inside) : "").close("tr");
  }
  html.close("tbody").close("table");
}

void struck_part(Html& html, const PaperSheet& sheet) {
  if (sheet.data.struck.empty()) return;
  html.leaf("h2", sheet.words("paper.struck"_w));
  table_head(html, sheet.words,
             {"paper.col.when"_w, "paper.col.what_record"_w, "paper.col.reason"_w, "paper.col.by"_w});
  html.open("tbody");
  for (const ReportStruck& struck : sheet.data.struck) {
    html.open("tr", {{"class", "struck"}}).leaf("td", sheet.when(struck.at)).open("td");
    html.leaf("s", kind_and_name(struck.kind, struck.what, sheet.words)).close("td");
    html.leaf("td", sheet.reason(struck.why)).leaf("td", struck.by).close("tr");
  }
  html.close("tbody").close("table");
}

}  // namespace steep
