#include <cmath>

#include "base/text.h"
#include "book/told.h"
#include "paper/inspection_parts.h"

namespace steep {
namespace {

std::string stamp(const PaperSheet& sheet, const Taken<Stamp>& at) {
  return at ? sheet.when(at->at) : at.is_not_taken() ? sheet.not_taken() : sheet.words("paper.not_written"_w);
}

/// The day, and the clock below it.
void stamp_cell(Html& html, const PaperSheet& sheet, const Taken<Stamp>& at) {
  if (at)
    lines_cell(html, sheet.span(at->at, at->at), kAllKept);
  else
    html.leaf("td", stamp(sheet, at));
}

std::string volume(const PaperSheet& sheet, const std::optional<Volume>& amount) {
  return amount ? show(*amount, sheet.units, sheet.words) : sheet.words("paper.volume_not_known"_w);
}

std::vector<std::string> ingredients(const PaperSheet& sheet, const BrewSheet& brew) {
  std::vector<std::string> lines;
  for (std::size_t i = 0; i < brew.lines.size(); ++i) {
    const Lot* lot = i < brew.lots.size() ? &brew.lots[i] : nullptr;
    const auto& amount = brew.lines[i].amount;
    lines.push_back(
        (amount ? show_both(*amount, sheet.units, sheet.words) : sheet.not_taken()) + " " +
        (lot ? lot->material_name + (lot->code.empty() ? "" : " " + sheet.words("paper.lot"_w, {lot->code})) : ""));
  }
  return lines;
}

std::string value(const PaperSheet& sheet, const Reading& reading) {
  if (reading.not_taken) return sheet.not_taken();
  if (reading.value) return show(*reading.value, sheet.units, sheet.words);
  if (reading.number) return show_number(*reading.number, sheet.units);
  return sheet.words.stored("brew.word." + reading.word, reading.word);
}

/// '6:40 pm Temperature 61 °F, Oxygen 8.9 mg/L; 9:10 pm …': a time once for all that was read then, a day once until
/// the next.
std::string readings(const PaperSheet& sheet, const BrewSheet& brew) {
  const Taken<Stamp>& begun = brew.brew.met_water ? brew.brew.met_water : brew.brew.air_on;
  Moment before = begun ? begun->at : brew.brew.made.at;
  std::string text, time_before;
  for (const Reading& reading : brew.readings) {
    const std::string time = reading.at ? sheet.clock_since(before, reading.at->at) : "";
    const bool same_time = !text.empty() && time == time_before;
    if (!text.empty()) text += same_time ? ", " : "; ";
    if (!same_time && !time.empty()) text += time + " ";
    text += sheet.words.stored("brew.quantity." + reading.quantity, reading.quantity) + " " + value(sheet, reading);
    if (reading.at) before = reading.at->at;
    time_before = reading.at ? sheet.clock(reading.at->at) : "";
  }
  return text;
}

/// Filled = loaded + poured out + left, as far as volumes were written; a line each.
std::vector<std::string> balance(const PaperSheet& sheet, const BrewBalance& balance) {
  // What arithmetic leaves of nothing is nothing: '0 gal', not '0 fl oz'.
  const auto said = [&](WordId word, std::optional<Volume> amount) {
    if (amount && std::abs(amount->milliliters()) < 1) amount = Volume{};
    return sheet.words(word, {volume(sheet, amount)});
  };
  std::vector<std::string> lines = {said("paper.filled"_w, balance.filled.maybe()),
                                    said("paper.loaded"_w, balance.loaded), said("paper.poured"_w, balance.discarded),
                                    said("paper.left"_w, balance.left)};
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
  lines_cell(html, {made.code, made.recipe_name, made.vessel_name});
  stamp_cell(html, sheet, made.brew.met_water);
  stamp_cell(html, sheet, made.brew.air_off);
  lines_cell(html, ingredients(sheet, made));
  html.leaf("td", made.water_name).leaf("td", readings(sheet, made));
  lines_cell(html, balance(sheet, made.balance));
  std::vector<std::string> poured;
  for (const Discard& discard : brew.discards)
    poured.push_back(volume(sheet, discard.volume.maybe()) + (discard.words.empty() ? "" : " " + discard.words));
  html.leaf("td", join(poured, "; ")).leaf("td", verdict(sheet, made)).leaf("td", join(brew.used_in, ", ")).close("tr");
}

}  // namespace

void brews_part(Html& html, const PaperSheet& sheet) {
  if (sheet.data.brews.empty()) return;
  html.leaf("h2", sheet.words("paper.brews_title"_w));
  table_head(html, sheet.words,
             {"paper.col.brew"_w, "paper.col.met_water"_w, "paper.col.air_off"_w, "paper.col.lots"_w,
              "paper.col.water"_w, "paper.col.readings"_w, "paper.col.balance"_w, "paper.col.poured"_w,
              "paper.col.verdict"_w, "paper.col.used_in"_w},
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
        .leaf("td", stamp(sheet, wash.wash.at))
        .leaf("td", wash.of)
        .leaf("td", held_text(wash.wash.held, sheet.words))
        .leaf("td", how);
    html.leaf("td", rinsed ? sheet.words(*rinsed ? "paper.yes"_w : "paper.no"_w) : sheet.words("paper.not_written"_w));
    html.leaf("td", wash.by).close("tr");
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
    html.open("tr").leaf("td", sheet.when(harvest.harvest.at.at)).leaf("td", harvest.bed).leaf("td", harvest.crop);
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
