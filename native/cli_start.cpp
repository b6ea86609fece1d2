/// 'enter farm' where no book is yet: it begins one, as the first run of the window does.

#include <filesystem>
#include <iostream>

#include "book/farm_commands.h"
#include "native/cli.h"

namespace steep {
namespace {

/// What a book begins with; the rest is entered afterwards.
Result<FarmGiven> farm_given(Cli& cli, const EnterFields& fields) {
  FarmGiven given;
  given.units = cli.units().system;
  given.zone_name = cli.platform().zone_name();
  given.person_name = cli.as_person;
  for (const auto& [name, typed] : fields) {
    if (name == "name")
      given.name = typed;
    else if (name == "address")
      given.address = typed;
    else if (name == "client")
      given.client = typed;
    else if (name == "zone" || name == "zone.name")
      given.zone_name = typed;
    else if (name == "units" && (typed == "us" || typed == "metric"))
      given.units = typed == "us" ? System::Us : System::Metric;
    else
      return refuse(Trouble::BadInput, "cli.start.fields"_w, {name}, name);
  }
  if (given.person_name.empty()) return refuse(Trouble::BadInput, "cli.start.who"_w);
  if (given.zone_name.empty()) return refuse(Trouble::BadInput, "cli.start.zone"_w, {}, "zone");
  // Asked before the file is made, so that nothing half done lies there.
  TRY_ASSIGN([[maybe_unused]] const Zone& zone, Zone::from_name(given.zone_name));
  if (given.name.empty()) return refuse(Trouble::BadInput, "start.farm-name"_w, {}, "name");
  return given;
}

}  // namespace

bool is_no_book_yet(Cli& cli) {
  std::error_code none;
  return !std::filesystem::exists(cli.platform().book_place().path, none);
}

Result<void> start_book(Cli& cli, const EnterFields& fields) {
  TRY_ASSIGN(const FarmGiven given, farm_given(cli, fields));
  TRY_ASSIGN(Book book, cli.open(true));
  TRY_ASSIGN(const StartedFarm started, start_farm(book, given, {}));
  std::cerr << cli.words()("cli.start.done"_w, {cli.platform().book_place().path, given.person_name, given.zone_name})
            << "\n";
  Outcome outcome;
  outcome.written = true;
  outcome.record = started.farm;
  cli.say(book, outcome);
  return {};
}

}  // namespace steep
