#include "base/text.h"
#include "paper/inspection_parts.h"

namespace steep {
namespace {

std::string amounts(const PaperSheet& sheet, const ReportProduct& product) {
  std::vector<std::string> texts;
  for (const Written& amount : product.amounts) texts.push_back(show_both(amount, sheet.units, sheet.words));
  if (product.not_taken > 0) texts.push_back(sheet.words.count("paper.amount_not_taken"_w, product.not_taken));
  return join(texts, " + ");
}

/// 'Tea, brew 31, Leaf 3' and a line for each product.
std::vector<std::string> what_went_on(const PaperSheet& sheet, const ReportPass& pass) {
  std::vector<std::string> lines;
  for (std::size_t i = 0; i < pass.brew_codes.size(); ++i) {
    const std::string recipe = i < pass.recipes.size() ? pass.recipes[i] : "";
    lines.push_back(recipe.empty() ? sheet.words("paper.brew"_w, {pass.brew_codes[i]})
                                   : sheet.words("paper.brew_recipe"_w, {pass.brew_codes[i], recipe}));
  }
  for (const ReportProduct& product : pass.products) lines.push_back(product_text(sheet, product));
  if (lines.empty()) lines.push_back(sheet.words("paper.nothing_written"_w));
  return lines;
}

std::vector<std::string> rates(const PaperSheet& sheet, const ReportPass& pass) {
  const Words& words = sheet.words;
  if (!pass.pass.spray_rate && !pass.pass.tea_rate) return {words("paper.rates_unknown"_w)};
  std::vector<std::string> lines;
  if (pass.pass.spray_rate)
    lines.push_back(words("paper.rate_spray"_w, {show(*pass.pass.spray_rate, sheet.units, words)}));
  if (pass.pass.tea_rate) lines.push_back(words("paper.rate_tea"_w, {show(*pass.pass.tea_rate, sheet.units, words)}));
  lines.push_back(pass.pass.rate_area == RateArea::BedTop ? words("paper.of_bed_top"_w) : words("paper.of_swath"_w));
  return lines;
}

std::vector<std::string> ground(const PaperSheet& sheet, const ReportPass& pass) {
  const Words& words = sheet.words;
  const std::string bed_top = sheet.field_area(pass.bed_top), swath = sheet.field_area(pass.swath_area);
  std::vector<std::string> lines = {words("paper.bed_length"_w, {sheet.bed_length(pass.length)})};
  if (pass.swath_area.si() > 0 && swath == bed_top) {
    lines.push_back(words("paper.area_both"_w, {bed_top}));
    return lines;
  }
  lines.push_back(words("paper.area_bed_top"_w, {bed_top}));
  if (pass.swath_area.si() > 0) lines.push_back(words("paper.area_swath"_w, {swath}));
  return lines;
}

void waits_cell(Html& html, const PaperSheet& sheet, const std::optional<Moment>& first,
                const std::optional<Moment>& last, bool unknown, const std::vector<RuleWait>& rules) {
  std::vector<std::string> lines;
  if (first && last) lines = sheet.first_and_last(*first, *last);
  const std::size_t times = lines.size();
  if (unknown) lines.push_back(sheet.words("paper.held_some"_w));
  if (lines.empty()) lines.push_back(sheet.words("paper.no_wait"_w));
  for (const RuleWait& rule : rules) lines.push_back(sheet.rule(rule));
  lines_cell(html, lines, times);
}

/// At the start and at the finish; once where both say the same.
std::vector<std::string> weather(const PaperSheet& sheet, const Pass& pass) {
  const std::string start = sheet.wind(pass.weather_start), finish = sheet.wind(pass.weather_finish);
  return start == finish ? std::vector{start} : std::vector{start, finish};
}

std::vector<std::string> beds_and_crops(const PaperSheet& sheet, const ReportPass& pass) {
  std::string beds = pass.beds;
  for (const auto& [name, length] : pass.parts)
    beds += (beds.empty() ? "" : ", ") + sheet.words("paper.part_of"_w, {sheet.bed_length(length), name});
  std::vector<std::string> lines = {beds};
  if (!pass.crops.empty()) lines.push_back(pass.crops);
  if (pass.in_question > 0) lines.push_back(sheet.words.count("paper.in_question"_w, pass.in_question));
  return lines;
}

void pass_row(Html& html, const PaperSheet& sheet, const ReportPass& pass) {
  const Words& words = sheet.words;
  html.open("tr");
  lines_cell(html,
             sheet.span(pass.pass.start.at, pass.pass.finish ? std::optional(pass.pass.finish->at) : std::nullopt),
             kAllKept);
  std::vector<std::string> called = {pass.code, pass.rig_name};
  if (std::string reason = sheet.reason_given(pass.pass.id); !reason.empty()) called.push_back(std::move(reason));
  lines_cell(html, called);
  lines_cell(html, beds_and_crops(sheet, pass));
  lines_cell(html, ground(sheet, pass), 1);
  lines_cell(html, what_went_on(sheet, pass));
  html.leaf("td", words.stored("aim." + std::string(pass.pass.aim == Aim::Leaf   ? "leaf"
                                                    : pass.pass.aim == Aim::Soil ? "soil"
                                                                                 : "drench"),
                               ""));
  lines_cell(html, rates(sheet, pass), kAllKept);
  html.leaf("td", sheet.spray(pass.used, pass.has_tea));
  lines_cell(html, weather(sheet, pass.pass));
  waits_cell(html, sheet, pass.entry_first, pass.entry_last, pass.entry_unknown, pass.entry_rules);
  waits_cell(html, sheet, pass.harvest_first, pass.harvest_last, pass.harvest_unknown, pass.harvest_rules);
  html.leaf("td", join(pass.people, ", "));
  html.close("tr");
}

std::vector<std::string> struck_place(const PaperSheet& sheet, const ReportDose& dose) {
  std::vector<std::string> pieces = {dose.bed.empty() ? sheet.words("paper.bed_not_here"_w) : dose.bed};
  if (!dose.dose.is_skipped()) pieces.push_back(sheet.stretch(dose.dose.stretch()));
  pieces.insert(pieces.end(), dose.crops.begin(), dose.crops.end());
  return pieces;
}

void struck_row(Html& html, const PaperSheet& sheet, const ReportPass& pass, const ReportDose& dose) {
  html.open("tr", {{"class", "struck"}})
      .open("td", {{"class", "w"}})
      .leaf("s", dose.dose.finish ? sheet.when(dose.dose.finish->at) : "")
      .close("td");
  html.open("td")
      .leaf("s", pass.code)
      .close("td")
      .open("td")
      .leaf("s", join(struck_place(sheet, dose), ", "))
      .close("td");
  const std::string at = dose.struck_at ? sheet.when(*dose.struck_at) : "";
  html.leaf("td", sheet.words("paper.struck_line"_w, {at, dose.struck_by, sheet.reason(dose.dose.struck)}),
            {{"colspan", "9"}})
      .close("tr");
}

}  // namespace

std::string product_text(const PaperSheet& sheet, const ReportProduct& product) {
  std::vector<std::string> pieces = {product.material_name.empty() ? sheet.words("paper.unknown_material"_w)
                                                                   : product.material_name};
  if (!product.lot_code.empty()) pieces.push_back(sheet.words("paper.lot"_w, {product.lot_code}));
  if (!product.registration.empty()) pieces.push_back(sheet.words("paper.registration"_w, {product.registration}));
  pieces.push_back(amounts(sheet, product));
  return join(pieces, ", ");
}

void passes_part(Html& html, const PaperSheet& sheet) {
  html.leaf("h2", sheet.words("paper.passes"_w));
  if (sheet.data.passes.empty()) {
    html.leaf("p", sheet.words("paper.no_passes"_w));
    return;
  }
  table_head(html, sheet.words,
             {"paper.col.time"_w, "paper.col.pass"_w, "paper.col.beds"_w, "paper.col.ground"_w, "paper.col.what"_w,
              "paper.col.aim"_w, "paper.col.rates"_w, "paper.col.used"_w, "paper.col.weather"_w,
              "paper.col.no_entry_span"_w, "paper.col.no_harvest_span"_w, "paper.col.by"_w},
             "passes");
  html.open("tbody");
  for (const ReportPass& pass : sheet.data.passes) {
    pass_row(html, sheet, pass);
    for (const ReportDose& dose : pass.struck) struck_row(html, sheet, pass, dose);
  }
  html.close("tbody").close("table");
}

}  // namespace steep
