#include "base/text.h"
#include "paper/inspection_parts.h"
#include "paper/strip_svg.h"
#include "quantity/time_shown.h"

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

void lines_cell(Html& html, const std::vector<std::string>& lines, std::string_view css = {}) {
  html.open("td", {{"class", css}});
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i > 0) html.raw("<br>");
    html.text(lines[i]);
  }
  html.close("td");
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
  std::vector<std::string> lines = {words("paper.bed_length"_w, {sheet.bed_length(pass.length)}),
                                    words("paper.area_bed_top"_w, {sheet.field_area(pass.bed_top)})};
  if (pass.swath_area.si() > 0) lines.push_back(words("paper.area_swath"_w, {sheet.field_area(pass.swath_area)}));
  return lines;
}

std::vector<std::string> waits(const PaperSheet& sheet, const std::optional<Moment>& first,
                               const std::optional<Moment>& last, bool unknown, const std::vector<RuleSource>& rules) {
  std::vector<std::string> lines;
  if (unknown) lines.push_back(sheet.words("paper.held_some"_w));
  if (first && last) lines.push_back(sheet.first_and_last(*first, *last));
  if (lines.empty()) lines.push_back(sheet.words("paper.no_wait"_w));
  for (const RuleSource& rule : rules) lines.push_back(sheet.rule(rule));
  return lines;
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
  html.leaf("td",
            sheet.span(pass.pass.start.at, pass.pass.finish ? std::optional(pass.pass.finish->at) : std::nullopt));
  std::vector<std::string> called = {pass.code, pass.rig_name};
  if (std::string reason = sheet.reason_given(pass.pass.id); !reason.empty()) called.push_back(std::move(reason));
  lines_cell(html, called);
  lines_cell(html, beds_and_crops(sheet, pass));
  lines_cell(html, ground(sheet, pass), "w");
  lines_cell(html, what_went_on(sheet, pass));
  html.leaf("td", words.stored("aim." + std::string(pass.pass.aim == Aim::Leaf   ? "leaf"
                                                    : pass.pass.aim == Aim::Soil ? "soil"
                                                                                 : "drench"),
                               ""));
  lines_cell(html, rates(sheet, pass), "w");
  html.leaf("td", sheet.spray(pass.used, pass.has_tea));
  lines_cell(html, {sheet.wind(pass.pass.weather_start), sheet.wind(pass.pass.weather_finish)});
  lines_cell(html, waits(sheet, pass.entry_first, pass.entry_last, pass.entry_unknown, pass.entry_rules));
  lines_cell(html, waits(sheet, pass.harvest_first, pass.harvest_last, pass.harvest_unknown, pass.harvest_rules));
  html.leaf("td", join(pass.people, ", "));
  html.close("tr");
}

std::string stretch_of(const PaperSheet& sheet, const Dose& dose) {
  const Stretch stretch = dose.stretch();
  return sheet.words("paper.stretch"_w, {sheet.bed_length(stretch.from), sheet.bed_length(stretch.to)});
}

std::vector<std::string> struck_place(const PaperSheet& sheet, const ReportDose& dose) {
  std::vector<std::string> pieces = {dose.bed.empty() ? sheet.words("paper.bed_not_here"_w) : dose.bed};
  if (!dose.dose.is_skipped()) pieces.push_back(stretch_of(sheet, dose.dose));
  pieces.insert(pieces.end(), dose.crops.begin(), dose.crops.end());
  return pieces;
}

/// '6:31 am – 6:35 am'; the finish alone where nobody wrote the start.
std::string dose_time(const PaperSheet& sheet, const ReportPass& pass, const Dose& dose) {
  const auto clock = [&](const Taken<Stamp>& at) { return sheet.clock_since(pass.pass.start.at, at->at); };
  const std::string finish = dose.finish ? clock(dose.finish) : sheet.not_taken();
  return dose.start ? clock(dose.start) + " – " + finish : finish;
}

void struck_row(Html& html, const PaperSheet& sheet, const ReportPass& pass, const ReportDose& dose) {
  html.open("tr", {{"class", "struck"}})
      .open("td")
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

void bed_entry(Html& html, const PaperSheet& sheet, const ReportPass& pass, const ReportDose& dose) {
  const Words& words = sheet.words;
  const bool skipped = dose.dose.is_skipped();
  html.open("div", {{"class", "bed"}}).leaf("b", dose.bed.empty() ? words("paper.bed_not_here"_w) : dose.bed);
  html.raw(strip_svg(dose.place.whole(), skipped ? std::vector<Stretch>{} : std::vector<Stretch>{dose.dose.stretch()},
                     dose.harvest.state != Hold::State::None));
  std::vector<std::string> pieces;
  if (!dose.crops.empty()) pieces.push_back(join(dose.crops, ", "));
  if (skipped) {
    pieces.push_back(words("paper.skipped"_w, {words.stored("skip." + dose.dose.note, dose.dose.note)}));
  } else {
    if (pass.loads.size() > 1) pieces.push_back(words("paper.of_load"_w, {std::to_string(dose.load_number)}));
    pieces.push_back(stretch_of(sheet, dose.dose));
    if (dose.dose.area().si() > 0) pieces.push_back(sheet.field_area(dose.dose.area()));
    pieces.push_back(dose_time(sheet, pass, dose.dose));
    pieces.push_back(sheet.spray(dose.volume.spray, dose.volume.tea, dose.volume.is_estimate()) + " (" +
                     sheet.how(dose.volume.how) + ")");
    if (dose.time)
      pieces.push_back(words(dose.time->liquid == Liquid::Tea ? "paper.tea_in_water"_w : "paper.extract_in_water"_w,
                             {show_duration(Duration::from_minutes(dose.time->minutes), words)}));
    pieces.push_back(words("paper.no_harvest_until"_w, {sheet.hold_end(dose.harvest)}));
    if (dose.entry.state != Hold::State::None)
      pieces.push_back(words("paper.no_entry_until"_w, {sheet.hold_end(dose.entry)}));
  }
  if (dose.in_question || dose.differs) pieces.push_back(words("paper.question_mark"_w));
  if (dose.left_out) pieces.push_back(words("paper.left_out"_w));
  if (!dose.dose.note.empty() && !skipped) pieces.push_back(words.stored("skip." + dose.dose.note, dose.dose.note));
  if (dose.late) pieces.push_back(sheet.written(dose.dose));
  if (std::string reason = sheet.reason_given(dose.dose.id); !reason.empty()) pieces.push_back(std::move(reason));
  html.leaf("span", join(pieces, " · ")).close("div");
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

void table_head(Html& html, const Words& words, std::initializer_list<WordId> heads) {
  html.open("table").open("thead").open("tr");
  for (const WordId head : heads) html.leaf("th", words(head));
  html.close("tr").close("thead");
}

void passes_part(Html& html, const PaperSheet& sheet) {
  html.leaf("h2", sheet.words("paper.passes"_w));
  if (sheet.data.passes.empty()) {
    html.leaf("p", sheet.words("paper.no_passes"_w));
    return;
  }
  table_head(html, sheet.words,
             {"paper.col.time"_w, "paper.col.pass"_w, "paper.col.beds"_w, "paper.col.ground"_w, "paper.col.what"_w,
              "paper.col.aim"_w, "paper.col.rates"_w, "paper.col.used"_w, "paper.col.weather"_w, "paper.col.no_entry"_w,
              "paper.col.no_harvest"_w, "paper.col.by"_w});
  html.open("tbody");
  for (const ReportPass& pass : sheet.data.passes) {
    pass_row(html, sheet, pass);
    for (const ReportDose& dose : pass.struck) struck_row(html, sheet, pass, dose);
  }
  html.close("tbody").close("table");
}

void beds_part(Html& html, const PaperSheet& sheet) {
  for (const ReportPass& pass : sheet.data.passes) {
    if (pass.doses.empty()) continue;
    html.leaf("h3", sheet.words("paper.beds_of_pass"_w, {pass.code, sheet.day(pass.pass.start.at)}));
    loads_of_pass(html, sheet, pass);
    html.open("div", {{"class", "beds"}});
    for (const ReportDose& dose : pass.doses) bed_entry(html, sheet, pass, dose);
    html.close("div");
    if (pass.undone > 0) html.leaf("p", sheet.words.count("paper.undone"_w, pass.undone), {{"class", "note"}});
  }
}

}  // namespace steep
