/// A small program in the place of the real one: it tries single things of the page (taps, fields,
/// lists, files, storage) where a screen of the real program would only get in the way. Each press of
/// 'Add' is one committed row, so that a test can compare what was shown as saved with what is there.

#include <imgui.h>
#include <sqlite3.h>

#include <string>

#include "app/app.h"
#include "look/button.h"
#include "look/field.h"
#include "look/fonts.h"
#include "look/layout.h"
#include "look/saved_mark.h"
#include "look/screen.h"
#include "look/scroll.h"
#include "look/sheet.h"

namespace steep {

class Book {};

struct App::Inside {
  explicit Inside(Platform& p) : platform(p) {}
  Platform& platform;
  ItemTree tree;
  Words words{Language::English};
  sqlite3* db = nullptr;
  int rows = 0, taps = 0, list_taps = 0, backs = 0;
  bool clock = false, sheet = false, gone = false;
  std::string name, amount, code, notes, file = "none", last, chosen_row = "none";
  double wake_in = 0;

  int number(const char* sql) const {
    sqlite3_stmt* s = nullptr;
    sqlite3_prepare_v2(db, sql, -1, &s, nullptr);
    const int n = sqlite3_step(s) == SQLITE_ROW ? sqlite3_column_int(s, 0) : -1;
    sqlite3_finalize(s);
    return n;
  }
  std::string text(const char* sql) const {
    sqlite3_stmt* s = nullptr;
    sqlite3_prepare_v2(db, sql, -1, &s, nullptr);
    std::string t = sqlite3_step(s) == SQLITE_ROW ? reinterpret_cast<const char*>(sqlite3_column_text(s, 0)) : "?";
    sqlite3_finalize(s);
    return t;
  }
  void run(const std::string& sql) {
    char* trouble = nullptr;
    if (sqlite3_exec(db, sql.c_str(), nullptr, nullptr, &trouble) != SQLITE_OK) last = trouble ? trouble : "?";
    sqlite3_free(trouble);
  }
  void add(int count, int bytes) {
    run("BEGIN");
    for (int i = 0; i < count; ++i) run("INSERT INTO entry(body) VALUES(randomblob(" + std::to_string(bytes) + "))");
    run("COMMIT");
    rows = number("SELECT count(*) FROM entry");
    platform.keep();
  }
  void draw();
  void draw_sheet();
};

App::App(Platform& platform, AppOptions) : inside_(std::make_unique<Inside>(platform)) {
  load_fonts(*ImGui::GetIO().Fonts);
  Inside& in = *inside_;
  const BookPlace place = platform.book_place();
  sqlite3_open_v2(place.path.c_str(), &in.db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, place.vfs.c_str());
  in.run("PRAGMA journal_mode=MEMORY; PRAGMA locking_mode=EXCLUSIVE; PRAGMA cache_spill=OFF");
  in.run("CREATE TABLE IF NOT EXISTS entry(n INTEGER PRIMARY KEY, body BLOB)");
  in.rows = in.number("SELECT count(*) FROM entry");
}
App::~App() = default;

void App::Inside::draw_sheet() {
  Sheet sheet_({.id = "sheet", .title = "A sheet"});
  TextField field{.id = "in-sheet", .label = "In the sheet"};
  static std::string inside;
  text_field(sheet_.pen(), field, inside);
  if (button(sheet_.pen(), {.id = "close", .text = "Close the sheet"}) || sheet_.closed()) sheet = false;
}

void App::Inside::draw() {
  const StorageHealth health = platform.storage();
  constexpr const char* kStates[] = {"Saved", "Saving", "Not saved"};
  Screen screen({.id = "probe", .title = "Probe", .first_of_tab = true, .scrolls = true});
  {
    ScreenPart main = screen.main();
    Pen& pen = main.pen();
    add_text_item(item_id("state"), Role::Status, std::string("State: ") + kStates[static_cast<int>(health.state)],
                  pen.here(20));
    paragraph(pen, std::string("Rows: ") + std::to_string(rows) + (health.elsewhere ? " (elsewhere)" : ""));
    paragraph(pen, "Taps: " + std::to_string(taps) + ", backs: " + std::to_string(backs) + ", file: " + file +
                       ", trouble: " + health.trouble + last);
    if (button(pen, {.id = "add", .text = "Add"})) add(1, 300);
    if (button(pen, {.id = "tap", .text = "Tap"})) ++taps;
    if (!gone && button(pen, {.id = "gone", .text = "Go away"})) gone = true;
    TextField name_field{.id = "name", .label = "Name"},
        amount_field{.id = "amount", .label = "Amount", .kind = FieldKind::Decimal},
        code_field{.id = "code", .label = "Code", .kind = FieldKind::Code},
        notes_field{.id = "notes", .label = "Notes", .kind = FieldKind::MultiLine};
    text_field(pen, name_field, name);
    text_field(pen, amount_field, amount);
    text_field(pen, code_field, code);
    text_field(pen, notes_field, notes);
    add_text_item(item_id("echo"), Role::Text, "Echo: " + name + "|" + amount + "|" + code + "|" + notes, pen.here(1));
    if (button(pen, {.id = "file", .text = "Choose a file", .file_pick = true})) {
      platform.pick_file([this](Result<File> got) {
        file =
            got ? got->name + " " + std::to_string(got->bytes.size()) : "refused " + std::string(got.error().word.key);
      });
    }
    if (button(pen, {.id = "many", .text = "Add many"})) add(2000, 1000);
    if (button(pen, {.id = "check", .text = "Check"})) last = text("PRAGMA integrity_check");
    if (button(pen, {.id = "clock", .text = "Clock"})) clock = !clock;
    if (button(pen, {.id = "here", .text = "Use it here"})) platform.use_here();
    if (button(pen, {.id = "copy", .text = "Set aside"})) platform.make_safety_copy([](Result<void>) {});
    if (button(pen, {.id = "open", .text = "Open a sheet"})) sheet = true;
    if (button(pen, {.id = "save", .text = "Save a file"}))
      platform.save_file({"probe.txt", "hello", "text/plain"}, [](Result<void>) {});
    paragraph(pen, "Chosen: " + chosen_row);
    long_list(
        pen, {.count = 400,
              .row_height = 56,
              .role = Role::Row,
              .id = [](std::size_t i) { return item_id("row" + std::to_string(i)); },
              .name = [](std::size_t i) { return "Row " + std::to_string(i); },
              .draw =
                  [this](std::size_t i, const Box& box) {
                    const std::string word = "Row " + std::to_string(i);
                    if (press({.id = item_id("row" + std::to_string(i)), .role = Role::Row, .name = word}, box).pressed)
                      chosen_row = word;
                  }});
  }
  if (sheet) draw_sheet();
}

void App::frame() {
  Inside& in = *inside_;
  const DeviceLook device = in.platform.device_look();
  Look look_;
  look_.native_text = false;
  look_.theme = device.dark ? Theme::Dusk : Theme::Day;
  const ImGuiIO& io = ImGui::GetIO();
  look_.width = io.DisplaySize.x;
  look_.height = io.DisplaySize.y;
  look_.density = io.DisplayFramebufferScale.x;
  begin_look(look_, in.words, in.tree, static_cast<double>(in.platform.now().at.ms) / 1000);
  in.draw();
  end_look();
  in.wake_in = next_frame_in();
}

bool App::has_job() const { return false; }
void App::work(std::int64_t) {}
ItemTree& App::items() { return inside_->tree; }
bool App::needs_frame() const { return inside_->wake_in <= 0 || inside_->tree.has_requests(); }
Moment App::next_wake() const { return inside_->clock ? inside_->platform.now().at + kSecond : Moment{}; }
void App::dropped(File file) { inside_->file = "dropped " + file.name; }
void App::arrived_unread(const Problem& problem) { inside_->file = "unread " + std::string(problem.word.key); }
void App::back() {
  ++inside_->backs;
  inside_->sheet = false;
}
bool App::can_go_back() const { return inside_->sheet; }
void App::went_hidden() { cancel_pointer(); }
void App::came_visible() {}
void App::pointer_cancelled() { cancel_pointer(); }
void App::storage_changed() {}
void App::book_changed_elsewhere() {}
Language App::language() const { return Language::English; }
Theme App::theme() const { return inside_->platform.device_look().dark ? Theme::Dusk : Theme::Day; }
Color App::ground() const { return colors().ground; }
std::string App::title() const { return "Probe"; }
Book* App::book() { return nullptr; }

}  // namespace steep
