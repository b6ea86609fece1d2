#include "screens/reports.h"

#include "book/audit.h"
#include "book/enter.h"
#include "book/report_data.h"
#include "look/button.h"
#include "look/card.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/rows.h"
#include "paper/csv.h"
#include "paper/inspection.h"
#include "quantity/time_shown.h"
#include "screens/amounts.h"
#include "screens/parts.h"

namespace steep {
namespace {

constexpr float kChoicesPanel = 340;
/// Kinds that people ask for as a table, in that order.
constexpr std::string_view kTables[] = {"dose",    "pass", "load", "brew",     "reading", "count",
                                        "harvest", "sale", "bed",  "planting", "lot",     "wash"};

/// Not a kind: who changed what when, with the old values.
constexpr std::string_view kHistory = "history";

void read_day(std::string_view typed, Date standard, Date today, Date& day, std::string& error,
              const Surroundings& around) {
  day = standard;
  if (typed.empty()) return;
  const auto read = read_date(typed, today);
  if (read)
    day = *read;
  else
    error = around.sentence(read.error());
}

std::string sum_text(const VolumeSum& sum, bool tea, const Surroundings& around) {
  ShownVolume shown;
  shown.how = sum.estimated > 0 ? HowKnown::Rate : HowKnown::Share;
  shown.spray = sum.spray;
  if (tea) shown.tea = sum.tea;
  return spray_text(shown, around.units, around.words);
}

void fill_data(ReportsView& view, const ReportData& data, const Surroundings& around) {
  const Words& words = around.words;
  const auto shows = [&](WordId what, std::size_t n) {
    view.shows.emplace_back(words(what), show_count(static_cast<long long>(n), around.units));
  };
  std::size_t doses = 0;
  for (const ReportPass& pass : data.passes) doses += pass.doses.size();
  shows("paper.passes"_w, data.passes.size());
  shows("reports.doses"_w, doses);
  shows("paper.brews_title"_w, data.brews.size());
  shows("paper.washes"_w, data.washes.size());
  shows("paper.harvests"_w, data.harvests.size());
  shows("paper.struck"_w, data.struck.size());
  shows("paper.open_questions"_w, static_cast<std::size_t>(data.counts.all()));
  view.sums = sum_text(data.totals.tea, true, around);
  if (data.totals.other_passes > 0)
    view.other_sums = words("reports.other_sprays"_w, {sum_text(data.totals.other, false, around)});
  if (data.counts.all() > 0) view.open = words.count("reports.open"_w, data.counts.all());
}

MakePaper paper_of(const ReportsView& view, MakePaper::How how) {
  MakePaper paper;
  paper.how = how;
  const Id farm = view.farm_ids[static_cast<std::size_t>(view.farm)];
  paper.make = [farm, from = view.from, to = view.to, units = view.units,
                language = view.language](const Book& book) -> Result<File> {
    TRY_ASSIGN(const ReportData& data, report_data(book, farm, from, to));
    return inspection_page(data, Words(language), units);
  };
  return paper;
}

/// The table of one kind: of the farm and the days chosen, as the report beside it. The history is of all records.
MakePaper table_paper(const ReportsView& view, const std::string& kind) {
  MakePaper paper;
  paper.how = view.can_share ? MakePaper::How::Share : MakePaper::How::Save;
  TableOptions rows;
  if (!view.farm_ids.empty()) rows.farm = view.farm_ids[static_cast<std::size_t>(view.farm)];
  if (is_of_a_time(kind)) {
    rows.from = view.from;
    rows.to = view.to;
  }
  paper.make = [kind, rows, from = view.from, to = view.to](const Book& book) -> Result<File> {
    if (kind != kHistory) return csv_file(book, kind, rows);
    AuditOptions options;
    options.from = from;
    options.to = to;
    TRY_ASSIGN(const Table& table, audit_table(book, options));
    return File{"history.csv", csv_text(table), "text/csv"};
  };
  return paper;
}

void choices(Pen& pen, const ReportsView& view, ReportsInput& input) {
  if (view.farms.size() > 1) {
    std::vector<Choice> farms;
    for (const std::string& farm : view.farms) farms.push_back({.text = farm});
    heading(pen, view.farm_label, TextStyle::Strong);
    if (const int chosen = view.farms.size() <= 4 ? segmented(pen, "farm", view.farm_label, farms, view.farm)
                                                  : choice_list(pen, "farm", view.farm_label, farms, view.farm);
        chosen >= 0)
      input.farm = chosen;
    pen.space(10);
  }
  Pen from = pen.column({-1, -1}, 0), to = pen.column({-1, -1}, 1);
  text_field(from, {.id = "from", .label = view.from_label, .hint = view.from_hint, .error = view.from_error},
             input.from);
  text_field(to, {.id = "to", .label = view.to_label, .hint = view.to_hint, .error = view.to_error}, input.to);
  pen.below(from);
  pen.below(to);
  pen.space(10);
  for (const auto& [what, n] : view.shows) pair_line(pen, what, n);
  pen.space(10);
}

}  // namespace

Result<ReportsView> reports_view(const Surroundings& around, const ReportsInput& input) {
  const Words& words = around.words;
  ReportsView view;
  view.title = words("book.report"_w);
  view.farm_label = words("reports.farm"_w);
  view.from_label = words("reports.from"_w);
  view.to_label = words("reports.to"_w);
  view.print = words("reports.print"_w);
  view.save = words("reports.save"_w);
  view.tables_head = words("book.tables"_w);
  view.no_verdict = words("paper.no_verdict"_w);
  view.why_not = words("reports.no_farm"_w);
  view.can_print = around.platform.can(Verb::Print);
  view.can_share = around.platform.can(Verb::ShareFile);
  view.units = around.units;
  view.language = words.language();
  for (const std::string_view kind : kTables)
    view.tables.emplace_back(kind, words.stored("kinds." + std::string(kind), kind));
  view.tables.emplace_back(kHistory, words("reports.history"_w));
  TRY_ASSIGN(const auto& all, farms(around.book));
  for (std::size_t i = 0; i < all.size(); ++i) {
    view.farms.push_back(all[i].name);
    view.farm_ids.push_back(all[i].id);
    if (input.farm < 0 ? all[i].id == around.farm : static_cast<std::size_t>(input.farm) == i)
      view.farm = static_cast<int>(i);
  }
  if (all.empty()) return view;
  const Farm& farm = all[static_cast<std::size_t>(view.farm)];
  const Date today = farm.day(around.now);
  read_day(input.from, {today.year, 1, 1}, today, view.from, view.from_error, around);
  read_day(input.to, today, today, view.to, view.to_error, around);
  view.from_hint = show_short_day(view.from, {1, 1, 1}, words);
  view.to_hint = show_short_day(view.to, {1, 1, 1}, words);
  view.second = farm.name + " · " + view.from_hint + " – " + view.to_hint;
  if (const auto ordered = days_in_order(view.from, view.to); !ordered) {
    view.to_error = around.sentence(ordered.error());
    return view;
  }
  TRY_ASSIGN(const ReportData& data, report_data(around.book, farm.id, view.from, view.to));
  fill_data(view, data, around);
  view.ready = view.from_error.empty() && view.to_error.empty();
  return view;
}

std::optional<Ask> draw_reports(const ReportsView& view, ReportsInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  const bool wide = look().wide_rail();
  ScreenSpec spec =
      wide ? furniture.tab("reports", view.title, view.second) : furniture.inner("reports", view.title, view.second);
  if (!wide) spec.back = true;
  if (wide) spec.left_panel = kChoicesPanel;
  Screen screen(spec);
  if (wide) {
    ScreenPart left = screen.left();
    choices(left.pen(), view, input);
  }
  {
    ScreenPart main = screen.main();
    Pen column = reading_column(main.pen());
    problem_line(column, furniture.problem);
    if (!wide) choices(column, view, input);
    {
      Card card(column, {.id = "sums"});
      paragraph(card.pen, view.sums, TextStyle::Strong);
      if (!view.other_sums.empty()) paragraph(card.pen, view.other_sums);
      paragraph(card.pen, view.no_verdict, TextStyle::Label);
    }
    if (!view.open.empty() &&
        caution_line(column, {.id = "open", .text = view.open, .open = look_words()("reports.look"_w)}))
      ask = Go{{"merge", {}}};
    heading(column, view.tables_head);
    Card card(column, {.id = "tables"});
    for (std::size_t i = 0; i < view.tables.size(); ++i)
      if (list_row(card.pen, {.id = view.tables[i].first,
                              .icon = Icon::Download,
                              .first = view.tables[i].second,
                              .line_above = i > 0})) {
        ask = table_paper(view, view.tables[i].first);
      }
    main.pen().below(column);
  }
  {
    ScreenPart actions = screen.actions();
    const bool can = view.ready && !view.farm_ids.empty();
    const int pressed = buttons(actions.pen(),
                                {{.id = "save", .text = view.save, .icon = Icon::Download, .enabled = can},
                                 {.id = "print",
                                  .text = view.print,
                                  .icon = Icon::Reports,
                                  .kind = ButtonKind::Primary,
                                  .enabled = can && view.can_print,
                                  .why_not = can ? std::string_view() : view.why_not}},
                                {-1, -1.4f});
    if (pressed == 0) ask = paper_of(view, view.can_share ? MakePaper::How::Share : MakePaper::How::Save);
    if (pressed == 1) ask = paper_of(view, MakePaper::How::Print);
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
