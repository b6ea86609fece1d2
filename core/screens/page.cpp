#include "screens/page.h"

#include "quantity/time_shown.h"

namespace steep {

std::string Surroundings::clock(Moment at) const { return show_clock(zone.local(at), units.clock, words); }
std::string Surroundings::when(Moment at) const { return show_when(zone.local(at), today, units.clock, words); }

Do write_plainly(Function<Result<void>(Book&, const Id& person)> what,
                 Function<std::optional<Ask>(const Outcome&)> then) {
  Do ask;
  ask.what = [what = std::move(what)](Book& book, const Going& going) -> Result<Outcome> {
    TRY(what(book, going.person));
    Outcome outcome;
    outcome.written = true;
    return outcome;
  };
  ask.then = std::move(then);
  return ask;
}

ScreenSpec Furniture::form(std::string_view id, std::string_view title, std::string_view second) const {
  ScreenSpec spec;
  spec.id = id;
  spec.title = title;
  spec.second = second;
  spec.back = true;
  spec.saved = saved;
  spec.not_saved_text = not_saved_text;
  return spec;
}

ScreenSpec Furniture::inner(std::string_view id, std::string_view title, std::string_view second) const {
  ScreenSpec spec = form(id, title, second);
  spec.tabs = &tabs;
  return spec;
}

ScreenSpec Furniture::tab(std::string_view id, std::string_view title, std::string_view second) const {
  ScreenSpec spec = inner(id, title, second);
  spec.back = false;
  spec.first_of_tab = true;
  spec.band = band;
  return spec;
}

std::optional<Ask> Furniture::asked(const Screen& screen) const {
  if (screen.tab_pressed() >= 0) {
    const auto index = static_cast<std::size_t>(screen.tab_pressed());
    if (index < tab_places.size()) return Go{tab_places[index]};
  }
  if (screen.back_pressed()) return Back{};
  if (screen.try_again_pressed()) return TryAgain{};
  if (screen.band_pressed()) return Go{band_leads_to};
  return std::nullopt;
}

}  // namespace steep
