#pragma once
/// Ending a pass: sums, what is left over and where it went, wash, weather, the waits it started.

#include <optional>
#include <string>
#include <vector>

#include "book/pass_end.h"
#include "screens/amount_sheet.h"
#include "screens/page.h"

namespace steep {

struct EndPassView {
  Id pass;
  std::string title, second;
  struct Group {
    std::string number, words;
    bool operator==(const Group&) const = default;
  };
  std::vector<Group> sums;  ///< Beds, length and area, spray.
  std::string went_in;
  std::string open_beds;  ///< 'N17 was not done …'; empty = none.
  // Left over.
  std::string left_question, left_value, left_unit, left_spoken, left_detail;
  std::optional<Written> left_now;
  struct Option {
    std::string key, text;
    bool chosen = false;
    bool operator==(const Option&) const = default;
  };
  std::vector<Option> where;
  std::string elsewhere_label;
  bool left_missing = true, asks_words = false;
  // Wash.
  std::string wash_question, wash_words_label;
  std::vector<Option> wash;
  bool wash_missing = true, asks_wash_words = false;
  // Weather.
  std::string weather_question, weather_last;
  std::optional<WeatherGiven> last_weather;
  int weather = -1;
  bool weather_missing = true;
  std::string weather_title, weather_done, weather_enter;
  std::string wind_value, wind_unit, wind_spoken, wind_label, temp_value, temp_unit, temp_spoken, temp_label;
  std::optional<Written> wind, temperature;
  const Unit* wind_in = nullptr;
  const Unit* temp_in = nullptr;
  std::vector<Option> directions, skies;

  std::string waits;  ///< '**24 beds, no harvest** until own finish + 1 day: N1 Fri 6:41 pm … N24 Fri 7:20 pm'
  bool waits_entry = false;
  std::string missing, end, problem;
  bool can_end = false;
  EndRequest request;
  UnitsShown units;
  bool keep_awake = true;
  bool operator==(const EndPassView& other) const {
    return title == other.title && sums == other.sums && missing == other.missing && waits == other.waits;
  }
};

struct EndPassInput : PageInput {
  DraftFields
      form;  ///< 'left', 'left-not-taken', 'where', 'place', 'words', 'wash', 'wash-words', 'weather-not-taken', 'wind' …
  bool weather_open = false;
  AmountTyping typing;
  bool operator==(const EndPassInput&) const = default;
};
DraftFields draft_fields(const EndPassInput& input);
void from_draft(EndPassInput& input, const DraftFields& fields);

Result<EndPassView> end_pass_view(const Surroundings& around, const EndPassInput& input);
std::optional<Ask> draw_end_pass(const EndPassView& view, EndPassInput& input, const Furniture& furniture);

}  // namespace steep
