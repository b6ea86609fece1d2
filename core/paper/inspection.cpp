#include "paper/inspection.h"

#include <algorithm>

#include "base/text.h"
#include "base/version.h"
#include "paper/html.h"
#include "paper/inspection_parts.h"
#include "paper/paper_sheet.h"
#include "paper/strip_svg.h"
#include "paper/style.h"
#include "quantity/time_shown.h"

namespace steep {
namespace {

std::string date_span(const PaperSheet& sheet) {
  return show_short_day(sheet.data.from, kFarFromToday, sheet.words) + " – " +
         show_short_day(sheet.data.to, kFarFromToday, sheet.words);
}

void head(Html& html, const PaperSheet& sheet) {
  const ReportData& data = sheet.data;
  const Words& words = sheet.words;
  if (data.demo) html.leaf("div", words("paper.demo"_w), {{"class", "demo"}});
  html.open("header", {{"class", "head"}}).raw(mark_svg(30)).open("div");
  html.leaf("h1", words("paper.inspection.title"_w));
  std::vector<std::string> line = {data.farm.name};
  if (!data.farm.client.empty()) line.push_back(words("paper.client"_w, {data.farm.client}));
  line.push_back(data.farm.address.empty() ? words("paper.no_address"_w) : data.farm.address);
  if (!data.farm.certifier.empty()) line.push_back(words("paper.certifier"_w, {data.farm.certifier}));
  if (!data.farm.plan_number.empty()) line.push_back(words("paper.plan_number"_w, {data.farm.plan_number}));
  html.leaf("p", join(line, " · "));
  html.leaf("p", words("paper.dates"_w, {date_span(sheet), data.farm.zone_known ? data.farm.zone.name()
                                                                                : words("paper.zone_unknown"_w)}));
  html.close("div").open("div", {{"class", "made"}});
  html.leaf("p", words("paper.made"_w, {sheet.when(data.made.at)}));
  html.leaf("p", words("paper.made_by_copy"_w, {data.copy_label.empty() ? data.book_name : data.copy_label}));
  html.close("div").close("header");
}

void total(Html& html, std::string_view number, std::string_view of) {
  html.open("div").leaf("b", number).text(of).close("div");
}

/// Passes in the table that are in neither sum: no bed was sprayed, or none counts.
long long without_a_bed(const ReportData& data) {
  const auto counts = [](const ReportDose& dose) { return !dose.dose.is_skipped() && !dose.left_out; };
  return std::count_if(data.passes.begin(), data.passes.end(), [&](const ReportPass& pass) {
    return std::none_of(pass.doses.begin(), pass.doses.end(), counts);
  });
}

/// By kind of spray, never added up.
void totals(Html& html, const PaperSheet& sheet) {
  const FarmTotals& sums = sheet.data.totals;
  const Words& words = sheet.words;
  html.open("section", {{"class", "totals"}});
  const long long none = without_a_bed(sheet.data);
  // Where only something else was sprayed, no tea is no sum.
  if (sums.tea_passes > 0 || sums.other_passes + none == 0)
    total(html, sheet.spray(sums.tea, true),
          words.count("paper.total.tea"_w, sums.tea_passes,
                      {sheet.bed_length(sums.tea_length), sheet.field_area(sums.tea_area)}));
  if (sums.other_passes > 0)
    total(html, sheet.spray(sums.other, false),
          words.count("paper.total.other"_w, sums.other_passes, {sheet.bed_length(sums.other_length)}));
  if (none > 0) total(html, words.count("paper.total.no_bed"_w, none), words("paper.total.no_bed_counts"_w));
  total(html, words.count("paper.brews"_w, static_cast<long long>(sheet.data.brews.size())), "");
  const int open = sheet.data.counts.all();
  total(html, words.count("paper.open"_w, open), open > 0 ? words("paper.open_see_foot"_w) : "");
  html.close("section");
  if (sums.beds_once > 0) html.leaf("p", words.count("paper.counted_once"_w, sums.beds_once), {{"class", "note"}});
}

void questions(Html& html, const PaperSheet& sheet) {
  if (sheet.data.questions.empty()) return;
  html.open("section", {{"class", "open"}}).leaf("h2", sheet.words("paper.open_questions"_w)).open("ul");
  for (const OpenQuestion& question : sheet.data.questions)
    html.leaf("li", spell(question.word, question.values, sheet.words, sheet.spell_as()));
  html.close("ul").close("section");
}

void person_line(Html& html, const PaperSheet& sheet, const Person& person) {
  std::vector<std::string> pieces = {person.name,
                                     person.address.empty() ? sheet.words("paper.no_address"_w) : person.address};
  if (!person.licence.empty()) pieces.push_back(sheet.words("paper.licence"_w, {person.licence}));
  html.leaf("p", join(pieces, ", "));
}

void foot(Html& html, const PaperSheet& sheet) {
  const ReportData& data = sheet.data;
  const Words& words = sheet.words;
  html.open("footer", {{"class", "foot"}}).leaf("h2", words("paper.applied_by"_w));
  for (const Person& person : data.people) person_line(html, sheet, person);
  html.leaf("p", words("paper.volumes_explained"_w), {{"class", "note"}});
  html.leaf("p", words("paper.waits_explained"_w), {{"class", "note"}});
  if (data.undone > 0) html.leaf("p", words.count("paper.undone"_w, data.undone), {{"class", "note"}});
  if (data.on_unknown_beds > 0)
    html.leaf("p", words.count("paper.unknown_beds"_w, data.on_unknown_beds), {{"class", "note"}});
  if (data.photos > 0) html.leaf("p", words.count("paper.photos"_w, data.photos), {{"class", "note"}});
  html.leaf("p", words("paper.digest"_w, {data.digest}));
  if (data.batches_aside > 0) html.leaf("p", words.count("paper.aside"_w, data.batches_aside));
  if (!data.tips.empty()) html.leaf("p", words("paper.tips"_w, {join(data.tips, " · ")}), {{"class", "note"}});
  html.leaf("p", words("paper.no_verdict"_w), {{"class", "note"}});
  html.open("div", {{"class", "sign"}})
      .leaf("span", words("paper.signed"_w))
      .leaf("span", words("paper.sign_date"_w))
      .close("div");
  html.close("footer");
}

std::string file_name(const ReportData& data) {
  std::string name;
  for (const char c : lower(data.farm.name)) name += (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ? c : '-';
  return "inspection-" + name + "-" + date_text(data.from) + "-" + date_text(data.to) + ".html";
}

}  // namespace

File inspection_page(const ReportData& data, const Words& words, const UnitsShown& units) {
  const PaperSheet sheet{data, words, units};
  Html html;
  html.raw("<!DOCTYPE html>\n").open("html", {{"lang", language_code(words.language())}}).open("head");
  html.empty("meta", {{"charset", "utf-8"}})
      .empty("meta", {{"name", "viewport"}, {"content", "width=device-width,initial-scale=1"}});
  html.empty("meta", {{"name", "generator"}, {"content", std::string("Steepbook ") + kProgramVersion}});
  html.leaf("title", words("paper.inspection.title"_w) + ", " + data.farm.name);
  html.raw("<style>").raw(report_style()).raw("</style>").close("head").open("body");
  head(html, sheet);
  totals(html, sheet);
  passes_part(html, sheet);
  beds_part(html, sheet);
  brews_part(html, sheet);
  washes_part(html, sheet);
  holds_part(html, sheet);
  harvests_part(html, sheet);
  struck_part(html, sheet);
  questions(html, sheet);
  foot(html, sheet);
  html.close("body").close("html");
  return {file_name(data), html.finish(), "text/html"};
}

}  // namespace steep
