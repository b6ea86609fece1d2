// Draws every screen from the demo farm into PNG files, without a window:  steepbook_pictures DIR [WAY [SCREEN]]
//
// Phone upright (390 and 360 wide), lying, desktop; day and dusk; English and Spanish; text at 130 %.
#include <array>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "book/record_commands.h"
#include "demo/demo.h"
#include "handover/give.h"
#include "handover/take.h"
#include "tests/screens/app_run.h"

namespace {

using namespace steep;
using namespace steep::test;

struct Size {
  const char* name;
  float width, height, density;
};
struct Way {
  const char* name;
  Size size;
  const char* theme;
  const char* language;
  int text;
};

/// What is pressed to come to a screen, in the language shown.
struct Shot {
  const char* name;
  std::vector<std::string> en, es;
};

std::vector<Shot> shots() {
  return {
      {"today", {}, {}},
      {"brew", {"Brew"}, {"Té"}},
      {"brew-page", {"Brew", "Brew …"}, {"Té", "Té …"}},
      {"brew-reading", {"Brew", "Brew …", "Add reading"}, {"Té", "Té …", "Añadir lectura"}},
      {"start-brew", {"Brew", "Start a brew"}, {"Té", "Empezar un té"}},
      {"plan", {"Plan a brew"}, {"Planear un té"}},
      {"plan-formula", {"Plan a brew", "24 beds…"}, {"Planear un té", "24 camas…"}},
      {"plan-time", {"Plan a brew", "Air on: Other time"}, {"Planear un té", "Encender aire: Otra hora"}},
      {"plan-today", {"Plan a brew", "Plan it · …"}, {"Planear un té", "Planear · …"}},
      {"planned",
       {"Plan a brew", "Plan it · …", "Open: Planned brew…"},
       {"Planear un té", "Planear · …", "Abrir: Té planeado…"}},
      {"plan-start-brew",
       {"Plan a brew", "Plan it · …", "Open: Planned brew…", "Start a brew"},
       {"Planear un té", "Planear · …", "Abrir: Té planeado…", "Empezar un té"}},
      {"spray", {"Spray"}, {"Aplicar"}},
      {"beds", {"Beds"}, {"Camas"}},
      {"book", {"Book…"}, {"Libro…"}},
      {"start-pass", {"Spray", "Start pass"}, {"Aplicar", "Empezar pasada"}},
      {"settings", {"Book…", "Settings"}, {"Libro…", "Ajustes"}},
      {"limits", {"Book…", "Settings", "The farm's own numbers…"}, {"Libro…", "Ajustes", "Los números de la finca…"}},
      {"limit",
       {"Book…", "Settings", "The farm's own numbers…", "Most wind, …"},
       {"Libro…", "Ajustes", "Los números de la finca…", "Viento máximo, …"}},
      {"bed", {"Beds", "Bed N1, …"}, {"Camas", "Cama N1, …"}},
      {"start-rates", {"Spray", "Start pass", "45 gal…"}, {"Aplicar", "Empezar pasada"}},
  };
}

Look look_of(const Way& way) {
  Look look;
  look.width = way.size.width;
  look.height = way.size.height;
  look.density = way.size.density;
  return look;
}

std::map<std::string, std::string, std::less<>> settings_of(const Way& way) {
  const std::string language = way.language;
  return {{"language", language},
          {"theme", way.theme},
          {"text-size", std::to_string(way.text)},
          {"decimal-mark", language == "es" ? "," : "."}};
}

/// The demo farm's book once more, so that no story finds what another has written.
std::string fresh_copy(const std::string& dir, const std::string& book) {
  std::string copy = dir + "/shot.sqlite";
  std::error_code error;
  std::filesystem::copy_file(book, copy, std::filesystem::copy_options::overwrite_existing, error);
  return copy;
}

void save(AppRun& run, const std::string& path) {
  run.harness.save(path);
  std::printf("%s\n", path.c_str());
}

/// Goes through a pass and draws each of its pages.
void pass_story(AppRun& run, const std::string& stem, bool spanish) {
  const auto press = [&](const char* en, const char* es) { return run.press(spanish ? es : en); };
  if (!press("Spray", "Aplicar") || !press("Start pass", "Empezar pasada")) return;
  save(run, stem + "start-pass.png");
  if (run.shows(spanish ? "Tiempo ahora: No se tomó" : "Weather now: Not taken"))
    press("Weather now: Not taken", "Tiempo ahora: No se tomó");
  if (!press("Start · …", "Empezar · …")) return;
  save(run, stem + "spraying-1.png");
  for (int i = 0; i < 4; ++i) {
    run.platform.wait(60000);
    std::string name;
    for (const Item& item : run.app().items().items()) {
      if (item.role == Role::Button && item.name.find(spanish ? " hecha, luego" : " done, then") != std::string::npos)
        name = item.name;
    }
    if (name.empty() || !run.press(name)) break;
  }
  run.platform.wait(18000);
  run.settle();
  save(run, stem + "spraying-5.png");
  // Tapping a strip takes that bed in hand: the one that is to be picked says so.
  if (press("N13 Radish…", "N13 Radish…")) save(run, stem + "spraying-warn.png");
  press("N5 Lettuce…", "N5 Lettuce…");
  press("Half of…", "Media …");
  save(run, stem + "spraying-half.png");
  press("Skip …", "Saltar …");
  save(run, stem + "spraying-skip.png");
  press(spanish ? "Cerrar" : "Close", "Cerrar");
  press("Refill, …", "Rellenar, …");
  save(run, stem + "refill.png");
  if (run.shows(spanish ? "¿Se vació el tanque?: Se vació" : "Is the tank dry?: Ran dry"))
    press("Is the tank dry?: Ran dry", "¿Se vació el tanque?: Se vació");
  if (!press("Refilled, …", "Rellenado, …")) return;
  // To the end of the walk.
  for (int i = 0; i < 40; ++i) {
    run.platform.wait(60000);
    std::string name;
    for (const Item& item : run.app().items().items()) {
      if (item.role == Role::Button && item.enabled &&
          item.name.find(spanish ? " hecha, luego" : " done, then") != std::string::npos)
        name = item.name;
    }
    if (name.empty() || !run.press(name)) break;
    if (run.shows(spanish ? "Escribirlo…" : "Write it…")) {  // A caution: said once, answered by skipping.
      save(run, stem + "before-it-is-written.png");
      press("Leave it", "Dejarlo");
      press("Skip N13", "Saltar N13");
      press("Why skip N13?: crop picked", "¿Por qué saltar N13?: cosechada");
    }
  }
  save(run, stem + "spraying-end.png");
  if (!press("End pass…", "Terminar pasada…")) return;
  save(run, stem + "end-pass.png");
  // Ended with something in the tank: the next start counts it, and asks whether it was washed.
  press("Left over, and where to?: Stays in tank", "¿Qué sobró y a dónde fue?: Queda en el tanque");
  const std::string wash = run.name_with(spanish ? "Sin lavar" : "Not washed");
  if (wash.empty() || !run.press(wash)) return;
  press("Weather at the end: Not taken", "Tiempo al final: No se tomó");
  if (!press("End pass", "Terminar pasada")) return;
  run.platform.wait(kHour);
  run.kill_and_open();
  if (!press("Spray", "Aplicar") || !press("Start pass", "Empezar pasada")) return;
  save(run, stem + "start-pass-rest.png");
  if (press("It was cleaned since", "Se limpió después")) save(run, stem + "start-pass-wash.png");
}

/// The same bed, twice: the second phone's file is taken in first.
void twice_story(const std::string& dir, const std::string& book, const Way& way, const std::string& stem,
                 bool spanish) {
  const std::string copy = dir + "/twice.sqlite", other = dir + "/phone.sqlite";
  std::error_code error;
  std::filesystem::copy_file(book, copy, std::filesystem::copy_options::overwrite_existing, error);
  std::filesystem::remove(other, error);
  FakePlatform platform(copy);
  platform.settings = settings_of(way);
  platform.saved();
  {
    auto mine = Book::open(platform.book_place(), needs_of(platform));
    DemoWish wish;
    wish.now = platform.clock;
    if (!mine || !make_demo_phone({other, {}, false}, *mine, wish)) return;
    FakePlatform second(other);
    auto theirs = Book::open(second.book_place(), needs_of(second));
    if (!theirs) return;
    auto given = give(*theirs, {});
    if (!given || !take_in(*mine, std::move(given->file))) return;
  }
  const Look look = look_of(way);
  AppRun run(platform, look);
  save(run, stem + "today-question.png");
  if (!run.press(spanish ? "1 pregunta por acordar" : "1 question to settle")) return;
  save(run, stem + "merge.png");
  for (const Item& item : run.app().items().items()) {
    if (item.role != Role::Row) continue;
    run.press(item.name);
    break;
  }
  save(run, stem + "twice.png");
}

/// The first record of a kind by this name or code; nil = none.
Id find_one(const Book& book, std::string_view kind, std::size_t index = 0) {
  const auto all = book.records(kind);
  return all && index < all->size() ? (*all)[index].id : Id{};
}

/// Two copies that differ in some facts, a strike that crossed with an edit, two vessels of one name; then the screens of taking in
/// and settling.
void merging_story(const std::string& dir, const std::string& book, const Way& way, const std::string& stem,
                   bool spanish) {
  const std::string mine_path = dir + "/merging.sqlite", office_path = dir + "/office.sqlite";
  std::error_code error;
  std::filesystem::copy_file(book, mine_path, std::filesystem::copy_options::overwrite_existing, error);
  std::filesystem::remove(office_path, error);
  FakePlatform platform(mine_path), desk(office_path);
  platform.settings = settings_of(way);
  platform.saved();
  desk.wait(7 * kSecond);
  std::array<std::uint8_t, 5> other_chance{};
  desk.random(other_chance);  // Two devices never draw the same ids.
  Id lot, rig;
  {
    auto mine = Book::open(platform.book_place(), needs_of(platform)),
         office = Book::open(desk.book_place(), needs_of(desk));
    if (!mine || !office || !mine->set_copy_label("Ana's phone") || !office->set_copy_label("Office")) return;
    lot = find_one(*mine, "lot");
    rig = find_one(*mine, "rig");
    const Id other = find_one(*mine, "lot", 1), ana = find_one(*mine, "person"), marek = find_one(*mine, "person", 1);
    platform.settings["person"] = ana.text();
    const auto fresh = [&](Book& into, double gallons, const Id& by) {
      Save save;
      save.record = into.new_record();
      save.kind = "vessel";
      save.fields = {text_field_value("name", "Barrel 3"),
                     quantity_value("volume.nominal", std::to_string(static_cast<int>(gallons)) + " gal")};
      return bool(into.write(save, by));
    };
    const auto first = give(*mine, {});
    if (!first || !take_in(*office, first->file)) return;
    platform.wait(26 * kMinute);
    desk.wait(31 * kMinute);
    const auto fix = [](Book& where, const Id& what, std::vector<FieldValue> fields, const char* why, const Id& by) {
      return bool(correct(where, what, std::move(fields), {}, why, {by, {}, true}));
    };
    bool fine = fix(*mine, lot, {quantity_value("quantity", "16 fl oz")}, "receipt 1187", ana) &&
                fix(*mine, lot, {date_value("expires", *parse_date("2027-03-01"))}, "read from the carton", ana) &&
                fix(*office, lot, {quantity_value("quantity", "32 fl oz")}, "receipt 1187, two bottles", marek) &&
                fix(*office, lot, {date_value("expires", *parse_date("2026-11-30"))}, "read from the bottle", marek) &&
                fix(*mine, rig, {quantity_value("tank.volume", "4 gal"), quantity_value("tank.dead", "0.2 gal")},
                    "measured", ana) &&
                fix(*office, rig, {quantity_value("tank.volume", "4 gal"), quantity_value("tank.dead", "0.1 gal")},
                    "by the maker", marek);
    fine = fine && bool(strike(*mine, other, "logged twice", {ana, {}, true})) &&
           fix(*office, other, {quantity_value("quantity", "2 gal")}, "weighed", marek);
    fine = fine && fresh(*mine, 30, ana) && fresh(*office, 55, marek);
    const auto given = give(*office, {});
    if (!fine || !given) return;
    platform.files_to_pick = {given->file, given->file};
    platform.clock = std::max(platform.clock, desk.clock) + kMinute;
  }
  const Look look = look_of(way);
  AppRun run(platform, look);
  const auto press = [&](const char* en, const char* es) { return run.press(spanish ? es : en); };
  const auto press_with = [&](Role role, std::initializer_list<std::string_view> texts) {
    for (const Item& item : run.app().items().items())
      for (const std::string_view text : texts)
        if (item.role == role && item.name.find(text) != std::string::npos) return run.press(item.name);
    return false;
  };
  if (!press("Book…", "Libro…") || !press("Take one in", "Recibir uno")) return;
  save(run, stem + "take-preview.png");
  if (!press("Take it in", "Recibirlo")) return;
  save(run, stem + "take-done.png");
  if (!press("Look at them", "Verlos")) return;
  save(run, stem + "merge-list.png");
  if (way.size.width < 1100 && press_with(Role::Row, {"Lot ", "Lote "})) {
    save(run, stem + "settle.png");
    press_with(Role::Choice, {"2027"});
    press("Next", "Siguiente");
    save(run, stem + "settle-2.png");
    if (press("Ask somebody", "Preguntar a alguien") && press("Ana", "Ana")) save(run, stem + "asking.png");
    run.app().back();
    run.settle();
  } else {
    press_with(Role::Choice, {"2027"});
    save(run, stem + "settle.png");
  }
  if (press_with(Role::Row, {"was struck on one copy", "se tachó en una copia"})) {
    save(run, stem + "decide.png");
    run.app().back();
    run.settle();
  }
  if (press_with(Role::Row, {"Barrel 3. One", "llaman Barrel 3"})) {
    save(run, stem + "same-thing.png");
    run.app().back();
    run.settle();
  }
  if (press("Book…", "Libro…")) {
    save(run, stem + "book-merged.png");
    if (press("Give a part, or lock it", "Entregar una parte, o protegida")) {
      save(run, stem + "give-part.png");
      if (press("Lock with a passphrase", "Proteger con una contraseña")) save(run, stem + "give-locked.png");
    }
    run.app().back();
    run.settle();
    if (press("To settle and to look at…", "Por acordar y por mirar…") &&
        press("Keep all of one side", "Quedarse con todo un lado"))
      save(run, stem + "settle-side.png");
  }
}

/// A photo of a bed: before it is kept, on its bed, alone.
void photo_story(AppRun& run, const std::string& stem, bool spanish) {
  FakePlatform& platform = run.platform;
  const auto press = [&](const char* en, const char* es) { return run.press(spanish ? es : en); };
  platform.files_to_pick.push_back(
      {"IMG_7.jpg", "\xFF\xD8\xFF\xE0" + std::string(240000, '\x90'), "image/jpeg", platform.clock - 5 * kMinute});
  if (!press("Beds", "Camas") || !press("Bed N1, …", "Cama N1, …") || !press("Add a photo", "Añadir una foto")) return;
  run.type(spanish ? "Qué muestra" : "What it shows",
           spanish ? "pulgones al final de la cama" : "aphids at the lane end");
  save(run, stem + "photo-keep.png");
  if (!press("Keep the photo", "Guardar la foto")) return;
  save(run, stem + "photo-bed.png");
  if (press("aphids…", "pulgones…")) save(run, stem + "photo-page.png");
}

/// A file of this book comes back locked: it asks for its passphrase.
void locked_story(AppRun& run, const std::string& stem, bool spanish) {
  FakePlatform& platform = run.platform;
  const auto press = [&](const char* en, const char* es) { return run.press(spanish ? es : en); };
  GiveRequest request;
  request.lock = GiveRequest::Lock{Passphrase("four words that rhyme"),
                                   [&](std::span<std::uint8_t> bytes) { platform.random(bytes); }};
  auto given = give(run.book(), request);
  if (!given) return;
  platform.files_to_pick.push_back(std::move(given->file));
  if (press("Book…", "Libro…") && press("Take one in", "Recibir uno")) save(run, stem + "take-locked.png");
}

/// No book yet, and a farm being started.
void first_run_story(AppRun& run, const std::string& stem, bool spanish) {
  const auto press = [&](const char* en, const char* es) { return run.press(spanish ? es : en); };
  save(run, stem + "first-run.png");
  if (!press("Start a farm here…", "Empezar una finca aquí…")) return;
  run.type(spanish ? "Nombre de la finca" : "Name of the farm", "Alder Reach");
  run.type(spanish ? "Su nombre" : "Your name", "Ana Leland");
  run.type(spanish ? "Un bloque, como usted lo diría" : "A block, as you would say it",
           spanish ? "Norte, 24 camas, 100 ft × 30 in" : "North, 24 beds, 100 ft × 30 in");
  press("Add this block", "Añadir este bloque");
  save(run, stem + "start-farm.png");
}

/// 'Work it out': the list, answers of several kinds, a formula; and a rig walked and caught.
void work_story(AppRun& run, const std::string& stem, bool spanish) {
  const auto press = [&](const char* en, const char* es) { return run.press(spanish ? es : en); };
  const bool wide = run.harness.look.wide_rail();
  const auto to_list = [&] {
    if (wide) return press("Work out", "Cálculos");
    return press("Book…", "Libro…") && press("Work it out…", "Calcular…");
  };
  if (!to_list()) return;
  save(run, stem + "work.png");
  if (press("How much oxygen can this water hold?", "¿Cuánto oxígeno cabe en esta agua?")) {
    save(run, stem + "work-oxygen-empty.png");
    press("Show an example", "Ver un ejemplo");
    save(run, stem + "work-oxygen.png");
    if (press("Saturation, …", "Saturación, …")) {
      save(run, stem + "work-formula.png");
      press("Close", "Cerrar");
    }
  }
  struct Told {
    const char *name, *en, *es;
  };
  for (const Told& told :
       {Told{"loads", "How many tankfuls, and what goes into each?", "¿Cuántos tanques y qué lleva cada uno?"},
        Told{"ratio", "What volumes stand behind a dilution?", "¿Qué volúmenes hay detrás de una dilución?"},
        Told{"tea-status", "What does the record show, under two sets of rules?",
             "¿Qué muestra el registro, según dos juegos de reglas?"},
        Told{"recipe", "How much of each thing goes into this fill?", "¿Cuánto de cada cosa lleva este llenado?"}}) {
    if (!to_list() || !press(told.en, told.es)) continue;
    press("Show an example", "Ver un ejemplo");
    if (std::string(told.name) == "ratio")
      run.type(spanish ? "Dilución como se escribió" : "Dilution as written", "4 to 1");
    save(run, stem + "work-" + told.name + ".png");
  }
  if (!press("Spray", "Aplicar")) return;
  save(run, stem + "spray-rigs.png");
  std::string rig;
  for (const Item& item : run.app().items().items())
    if (item.role == Role::Row && item.name.find(spanish ? "de cama" : "of bed top") != std::string::npos)
      rig = item.name;
  if (rig.empty() || !run.press(rig)) return;
  save(run, stem + "calibration-empty.png");
  for (int i = 0; i < 3; ++i) {
    const std::string walk = std::to_string(i + 1);
    if (!run.press(spanish ? "Medir vuelta " + walk : "Time walk " + walk)) return;
    run.wait(52000 + 1000 * i);
    press("At the end stake…", "En la última estaca…");
  }
  for (const char* jug : {"1", "2"}) {
    run.press((spanish ? "Recogida " : "Catch ") + std::string(jug) + "…");
    for (const char* digit : {"4", "5"}) run.key((spanish ? "Cifra " : "Digit ") + std::string(digit));
    press("Enter", "Anotar");
  }
  save(run, stem + "calibration.png");
}

/// The program on a copy of the demo farm, as this way shows it.
void on_demo_farm(const std::string& dir, const std::string& book, const Way& way,
                  const std::function<void(AppRun&)>& story) {
  FakePlatform platform(fresh_copy(dir, book));
  platform.settings = settings_of(way);
  platform.saved();
  const Look look = look_of(way);
  AppRun run(platform, look);
  story(run);
}

void run_way(const std::string& dir, const std::string& book, const Way& way, const std::string& only) {
  const bool spanish = std::string(way.language) == "es";
  const std::string stem = dir + "/" + way.name + "-";
  const auto wanted = [&](std::string_view name) { return only.empty() || only == name; };
  const auto on_farm = [&](const std::function<void(AppRun&)>& story) { on_demo_farm(dir, book, way, story); };
  for (const Shot& shot : shots()) {
    if (!wanted(shot.name)) continue;
    on_farm([&](AppRun& run) {
      bool there = true;
      for (const std::string& name : spanish ? shot.es : shot.en) there = there && run.press(name);
      if (there) save(run, stem + shot.name + ".png");
    });
  }
  if (wanted("first-run")) {
    FakePlatform platform;
    platform.settings = settings_of(way);
    const Look look = look_of(way);
    AppRun run(platform, look);
    first_run_story(run, stem, spanish);
  }
  if (wanted("twice")) twice_story(dir, book, way, stem, spanish);
  if (wanted("work")) on_farm([&](AppRun& run) { work_story(run, stem, spanish); });
  if (wanted("photo")) on_farm([&](AppRun& run) { photo_story(run, stem, spanish); });
  if (wanted("locked")) on_farm([&](AppRun& run) { locked_story(run, stem, spanish); });
  if (wanted("merging")) merging_story(dir, book, way, stem, spanish);
  if (wanted("pass")) on_farm([&](AppRun& run) { pass_story(run, stem, spanish); });
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2 || argv[1][0] == '-') {
    std::fprintf(stderr, "steepbook_pictures DIR [WAY [SCREEN]]\n");
    return 2;
  }
  const std::string dir = argv[1], only_way = argc > 2 ? argv[2] : "", only_screen = argc > 3 ? argv[3] : "";
  std::filesystem::create_directories(dir);
  const std::string book = dir + "/demo.sqlite";
  if (!std::filesystem::exists(book)) {
    DemoWish wish;
    wish.now = FakePlatform().clock;
    if (const auto made = make_demo({book, {}, false}, wish); !made) {
      std::fprintf(stderr, "demo: %s %s\n", std::string(made.error().word.key).c_str(), made.error().place.c_str());
      return 1;
    }
  }
  const Size phone{"phone", 390, 844, 2}, small{"small", 360, 740, 2}, lying{"lying", 844, 390, 2},
      desk{"desk", 1440, 900, 1};
  const std::vector<Way> ways = {{"phone", phone, "day", "en", 100},        {"phone-dusk", phone, "dusk", "en", 100},
                                 {"phone-es-130", phone, "day", "es", 130}, {"small-es-130", small, "day", "es", 130},
                                 {"phone-160", phone, "day", "en", 160},    {"lying", lying, "day", "en", 100},
                                 {"small", small, "day", "en", 100},        {"desk", desk, "day", "en", 100},
                                 {"desk-dusk-es", desk, "dusk", "es", 100}};
  for (const Way& way : ways) {
    if (only_way.empty() || only_way == way.name) run_way(dir, book, way, only_screen);
  }
  return names_not_in_words > 0 ? 1 : 0;
}
