#pragma once
/// One brew: its ribbon, its oxygen, and the sheet on which readings are taken.

#include <optional>
#include <string>
#include <vector>

#include "screens/amount_sheet.h"
#include "screens/brew_figure.h"
#include "screens/page.h"
#include "screens/photos_of_record.h"
#include "screens/work_links.h"

namespace steep {

struct BrewPageView {
  Id brew;
  bool opens_reading = false;  ///< Asked for with 'Add reading': its sheet is open from the start.
  std::string title, second;
  BrewFigure figure;
  // Oxygen over the ribbon's axis; empty readings = no chart.
  std::string chart_title, chart_spoken, figure_text;
  double low = 0, high = 10, floor = -1;
  std::vector<std::pair<double, double>> oxygen;
  std::vector<std::string> oxygen_text;
  std::vector<double> grid;
  std::vector<std::string> grid_text;

  std::string balance_head;
  struct Line {
    std::string words, number, unit;
    bool total = false;
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> balance;
  std::string note_label;
  struct Done {
    std::string first, second, note;
    bool operator==(const Done&) const = default;
  };
  /// Microscope, plates, tubes; newest first.
  struct Counted {
    Id id;
    std::string first, second, when;
    bool operator==(const Counted&) const = default;
  };
  std::string counts_head;
  std::vector<Counted> counts;
  std::string readings_head;
  std::vector<Done> readings;  ///< Newest first.

  std::string add_reading, air, verdict, pour, feed;
  bool can_air = true, air_is_on = false;
  // Reading sheet.
  std::string sheet_title, sheet_note, pad_spoken, farm_figure, last, save, save_second, error, why_not;
  std::vector<std::string> kinds, words;
  std::vector<std::string> kind_keys, word_keys;
  std::vector<std::string> units, unit_keys;
  int unit_chosen = 0;
  // Verdict sheet.
  std::string verdict_title, verdict_note, why_label, verdict_go, verdict_missing;
  std::vector<std::pair<std::string, std::string>> verdicts;
  // Pour sheet.
  std::string pour_title, pour_label, pour_value, pour_unit, pour_spoken, pour_where, pour_go, pour_missing;
  std::optional<Written> pour_now;
  // Events.
  std::string event_title;
  std::vector<std::pair<std::string, std::string>> events;
  WorkLinks links;
  PhotosView photos;
  std::string problem;
  UnitsShown shown_in;
  bool operator==(const BrewPageView& other) const {
    return title == other.title && figure == other.figure && readings == other.readings && counts == other.counts &&
           balance == other.balance && photos == other.photos;
  }
};

struct BrewPageInput : PageInput {
  std::string sheet;  ///< 'reading', 'verdict', 'pour', 'event'
  bool opened = false;
  int kind = 0;  ///< Of the reading.
  std::string typed, unit;
  int word = -1;
  bool noting = false;  ///< A line for a note is open.
  std::string note;
  std::optional<std::size_t>
      readings_before;  ///< Save was pressed when there were so many: with the next one the pad goes on.
  std::string verdict, why;
  std::string pour, pour_where;
  AmountTyping typing;
  bool operator==(const BrewPageInput&) const = default;
};

Result<BrewPageView> brew_page_view(const Surroundings& around, const BrewPageInput& input);
std::optional<Ask> draw_brew_page(const BrewPageView& view, BrewPageInput& input, const Furniture& furniture);

}  // namespace steep
