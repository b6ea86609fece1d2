#include <algorithm>

#include "base/text.h"
#include "paper/inspection_parts.h"
#include "paper/strip_svg.h"
#include "quantity/time_shown.h"

namespace steep {
namespace {

/// A column of the beds of a pass: one text a bed. A column without any text is left out.
struct BedColumn {
  std::string head;
  std::vector<std::string> texts = {};
  bool kept = true;  ///< Never wrapped.

  bool is_empty() const {
    return std::all_of(texts.begin(), texts.end(), [](const std::string& text) { return text.empty(); });
  }
  /// What all beds say alike is said once, in the head.
  void say_once_in(BedColumn& other) {
    std::string alike;
    for (const std::string& text : texts) {
      if (!alike.empty() && !text.empty() && text != alike) return;
      if (!text.empty()) alike = text;
    }
    if (!alike.empty()) other.head += ", " + alike;
    texts.assign(texts.size(), "");
  }
};

/// '6:31–6:35 am'; the finish alone where nobody wrote the start, or it was the same minute.
std::string dose_time(const PaperSheet& sheet, const ReportPass& pass, const Dose& dose) {
  const Farm& farm = sheet.data.farm;
  const Moment begun = pass.pass.start.at;
  const std::string finish = dose.finish ? sheet.clock_since(begun, dose.finish->at) : sheet.not_taken();
  if (!dose.start) return finish;
  const std::string start = sheet.clock_since(begun, dose.start->at);
  if (start == finish) return finish;
  const bool on_the_day =
      dose.finish && farm.day(dose.start->at) == farm.day(begun) && farm.day(dose.finish->at) == farm.day(begun);
  if (!on_the_day) return start + " – " + finish;
  return show_clock_span(farm.zone.local(dose.start->at), farm.zone.local(dose.finish->at), sheet.units.clock,
                         sheet.words);
}

std::string in_water(const PaperSheet& sheet, const ReportDose& dose) {
  if (!dose.time) return {};
  const std::string minutes = show_duration(Duration::from_minutes(dose.time->minutes), sheet.words);
  return sheet.words(dose.time->liquid == Liquid::Tea ? "paper.tea_for"_w : "paper.extract_for"_w, {minutes});
}

std::string notes(const PaperSheet& sheet, const ReportDose& dose) {
  std::vector<std::string> pieces;
  const std::string& note = dose.dose.note;
  if (dose.dose.is_skipped())
    pieces.push_back(sheet.words("paper.skipped"_w, {sheet.words.stored("skip." + note, note)}));
  if (dose.in_question || dose.differs) pieces.push_back(sheet.words("paper.question_mark"_w));
  if (dose.left_out) pieces.push_back(sheet.words("paper.left_out"_w));
  if (!dose.dose.is_skipped() && !note.empty()) pieces.push_back(sheet.words.stored("skip." + note, note));
  if (dose.late) pieces.push_back(sheet.written(dose.dose));
  if (std::string reason = sheet.reason_given(dose.dose.id); !reason.empty()) pieces.push_back(std::move(reason));
  return join(pieces, " · ");
}

/// Of a bed that was sprayed, and nothing of one that was not.
std::vector<BedColumn> bed_columns(const PaperSheet& sheet, const ReportPass& pass) {
  const Words& words = sheet.words;
  BedColumn crop{words("paper.col.crop"_w), {}, false}, load{words("paper.col.load"_w)},
      part{words("paper.col.stretch"_w)}, area{words("paper.col.area"_w)}, time{words("paper.col.time"_w)},
      spray{words("paper.col.spray"_w)}, how{words("paper.col.how_known"_w)}, water{words("paper.col.in_water"_w)},
      harvest{words("paper.col.no_harvest"_w)}, entry{words("paper.col.no_entry"_w)},
      note{words("paper.col.notes"_w), {}, false};
  for (const ReportDose& dose : pass.doses) {
    const bool sprayed = !dose.dose.is_skipped();
    const auto add = [&](BedColumn& column, std::string text) {
      column.texts.push_back(sprayed ? std::move(text) : std::string());
    };
    const bool may_enter = dose.entry.state == Hold::State::None;
    crop.texts.push_back(join(dose.crops, ", "));
    add(load, pass.loads.size() > 1 ? std::to_string(dose.load_number) : "");
    add(part, sheet.stretch(dose.dose.stretch()));
    add(area, dose.dose.area().si() > 0 ? sheet.field_area(dose.dose.area()) : "");
    add(time, dose_time(sheet, pass, dose.dose));
    add(spray, sheet.spray(dose.volume.spray, dose.volume.tea, dose.volume.is_estimate()));
    add(how, sheet.how(dose.volume.how));
    add(water, in_water(sheet, dose));
    add(harvest, sheet.hold_end(dose.harvest));
    add(entry, may_enter ? "" : sheet.hold_end(dose.entry));
    note.texts.push_back(notes(sheet, dose));
  }
  how.say_once_in(spray);
  std::vector<BedColumn> columns = {crop, load, part, area, time, spray, how, water, harvest, entry, note};
  std::erase_if(columns, [](const BedColumn& column) { return column.is_empty(); });
  return columns;
}

void bed_row(Html& html, const PaperSheet& sheet, const ReportDose& dose, const std::vector<BedColumn>& columns,
             std::size_t row) {
  html.open("tr").leaf("th", dose.bed.empty() ? sheet.words("paper.bed_not_here"_w) : dose.bed, {{"scope", "row"}});
  const bool skipped = dose.dose.is_skipped();
  html.open("td").raw(strip_svg(dose.place.whole(),
                                skipped ? std::vector<Stretch>{} : std::vector<Stretch>{dose.dose.stretch()},
                                dose.harvest.state != Hold::State::None));
  html.close("td");
  for (const BedColumn& column : columns) lines_cell(html, {column.texts[row]}, column.kept ? kAllKept : 0);
  html.close("tr");
}

void beds_of(Html& html, const PaperSheet& sheet, const ReportPass& pass) {
  const std::vector<BedColumn> columns = bed_columns(sheet, pass);
  html.leaf("h3", sheet.words("paper.beds_of_pass"_w, {pass.code, sheet.day(pass.pass.start.at)}));
  loads_of_pass(html, sheet, pass);
  html.open("table", {{"class", "beds"}}).open("thead").open("tr");
  html.leaf("th", sheet.words("paper.col.bed"_w), {{"colspan", "2"}});
  for (const BedColumn& column : columns) html.leaf("th", column.head);
  html.close("tr").close("thead").open("tbody");
  for (std::size_t i = 0; i < pass.doses.size(); ++i) bed_row(html, sheet, pass.doses[i], columns, i);
  html.close("tbody").close("table");
  if (pass.undone > 0) html.leaf("p", sheet.words.count("paper.undone"_w, pass.undone), {{"class", "note"}});
}

}  // namespace

void beds_part(Html& html, const PaperSheet& sheet) {
  for (const ReportPass& pass : sheet.data.passes)
    if (!pass.doses.empty()) beds_of(html, sheet, pass);
}

}  // namespace steep
