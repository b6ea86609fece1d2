/// The page: what the browser calls. wasm/page/js/boot.js loads the stored book into memory, starts the
/// program, and asks for frames: on input, on timers, never otherwise.

#include <emscripten.h>
#include <imgui.h>

#include <algorithm>
#include <memory>

#include "app/app.h"
#include "look/fonts_data.h"
#include "look/frame.h"
#include "look/tokens.h"
#include "wasm/browser.h"
#include "wasm/canvas.h"
#include "wasm/mirror.h"
#include "wasm/page_vfs.h"
#include "wasm/platform_web.h"

namespace steep {
namespace {

/// Everything that lives as long as the page. Never destroyed: a page ends without asking.
struct Page {
  PlatformWeb platform;
  Canvas canvas;
  std::unique_ptr<App> app;
  MirrorWriter mirror;
  std::uint64_t mirrored = 0;
  double last_frame_ms = 0;
  StorageHealth shown;
  Color ground = 0;
  Theme theme = Theme::Day;
  std::string language, title;
};

Page* page = nullptr;

std::string hex(Color color) {
  std::string text = "#000000";
  for (int i = 0; i < 3; ++i) {
    const unsigned part = color >> (8 * i) & 255;
    text[static_cast<std::size_t>(1 + 2 * i)] = "0123456789abcdef"[part >> 4];
    text[static_cast<std::size_t>(2 + 2 * i)] = "0123456789abcdef"[part & 15];
  }
  return text;
}

void follow_look() {
  const App& app = *page->app;
  if (page->ground != app.ground() || page->theme != app.theme()) {
    page->ground = app.ground();
    page->theme = app.theme();
    const Tokens& tokens = colors();
    browser::colors(hex(tokens.ground), hex(tokens.surface), hex(tokens.ink), page->theme == Theme::Dusk);
  }
  const std::string language(language_code(app.language())), title = app.title();
  if (language != page->language || title != page->title) {
    page->language = language;
    page->title = title;
    browser::language(language, title);
  }
}

void follow_items() {
  ItemTree& items = page->app->items();
  if (items.version() == page->mirrored) return;
  page->mirrored = items.version();
  browser::mirror(page->mirror.write(items.items()));
}

/// Lets the program know when the save state moved.
void follow_storage() {
  const StorageHealth health = page->platform.storage();
  if (health.state == page->shown.state && health.last_saved == page->shown.last_saved &&
      health.elsewhere == page->shown.elsewhere && health.lasting == page->shown.lasting &&
      health.photos_left == page->shown.photos_left) {
    return;
  }
  page->shown = health;
  if (page->app) page->app->storage_changed();
  browser::wake(0);
}

double until(Moment at) { return std::max(0.0, static_cast<double>(at.ms) - browser::now_ms()); }
double until_steady(Moment at) { return std::max(0.0, static_cast<double>(at.ms) - browser::steady_ms()); }

}  // namespace
}  // namespace steep

using namespace steep;

extern "C" {

// ---- Start ----

EMSCRIPTEN_KEEPALIVE void page_load_begin(double generation, double pages, double saved_at, int writer) {
  page->platform.store().begin_load(static_cast<std::uint64_t>(generation), static_cast<std::uint32_t>(pages),
                                    Moment{static_cast<std::int64_t>(saved_at)}, writer != 0);
}
EMSCRIPTEN_KEEPALIVE std::uint8_t* page_load_room(std::uint32_t segment) {
  return page->platform.store().segment_room(segment);
}
EMSCRIPTEN_KEEPALIVE void page_load_segment(std::uint32_t segment, const std::uint32_t* sums, std::uint32_t count) {
  page->platform.store().loaded_segment(segment, {sums, count});
}
/// `bytes`: the page and behind it its check sum.
EMSCRIPTEN_KEEPALIVE void page_load_page(std::uint32_t number, const std::uint8_t* bytes) {
  const std::uint8_t* sum = bytes + kPageBytes;
  page->platform.store().loaded_page(
      number, {bytes, kPageBytes},
      std::uint32_t{sum[0]} | std::uint32_t{sum[1]} << 8 | std::uint32_t{sum[2]} << 16 | std::uint32_t{sum[3]} << 24);
}
EMSCRIPTEN_KEEPALIVE int page_load_end(double sum_high, double sum_low) {
  const std::uint64_t sum = static_cast<std::uint64_t>(sum_high) << 32 | static_cast<std::uint64_t>(sum_low);
  if (!page->platform.store().end_load(sum)) return 0;
  return check_pages() ? 1 : 0;
}
/// A photo that lies in the storage; before the start.
EMSCRIPTEN_KEEPALIVE void page_photo_stored(const char* name, int size) {
  page->platform.photos().stored({name, static_cast<std::size_t>(size)});
}
/// 1 started, 0 no WebGL2.
EMSCRIPTEN_KEEPALIVE int page_start() {
  if (!page->canvas.begin()) return 0;
  page->app =
      std::make_unique<App>(page->platform, AppOptions{.native_text = false, .get_book_out = browser::get_book_out});
  page->shown = page->platform.storage();
  return 1;
}

// ---- Frames ----

/// Draws one. Answers when the next is wanted: ms from now, 0 = at once, −1 = only after input.
EMSCRIPTEN_KEEPALIVE double page_frame(double now_ms) {
  if (!page->app || !page->canvas.is_there()) return -1;
  page->platform.answer();
  follow_storage();
  const double passed = (now_ms - page->last_frame_ms) / 1000;
  page->last_frame_ms = now_ms;
  ImGui::GetIO().DeltaTime = static_cast<float>(std::clamp(passed, 0.0001, 0.1));  // After a sleep nothing jumps.
  page->platform.forget_wake();
  page->canvas.new_frame();
  ImGui::NewFrame();
  page->app->frame();
  ImGui::Render();
  page->canvas.draw(ImGui::GetDrawData(), page->app->ground());
  follow_storage();
  follow_look();
  follow_items();
  if (page->app->needs_frame()) return 0;
  double next = -1;
  const auto at = [&](Moment moment) {
    const double wait = until(moment);
    if (moment.ms != 0 && (next < 0 || wait < next)) next = wait;
  };
  at(page->app->next_wake());
  if (const auto wake = page->platform.next_wake()) at(*wake);
  return next;
}
EMSCRIPTEN_KEEPALIVE int page_has_job() { return page->app && page->app->has_job() ? 1 : 0; }
/// A long job goes on for about so long, between frames. 1 = it has work left and nothing new to show but its progress.
EMSCRIPTEN_KEEPALIVE int page_work(int ms) {
  if (!page->app || !page->app->has_job()) return 0;
  page->platform.answer();
  page->app->work(ms);
  follow_storage();
  return page->app->has_job() ? 1 : 0;
}
/// The store's own clock: answers ms until it wants to be called again, −1 = after the next commit.
EMSCRIPTEN_KEEPALIVE double page_store_step() {
  PageStore& store = page->platform.store();
  store.step();
  follow_storage();
  const auto next = store.next_step();
  return next ? until_steady(*next) : -1;
}
EMSCRIPTEN_KEEPALIVE void page_store_doubt() {
  page->platform.store().doubt();
  follow_storage();
}
EMSCRIPTEN_KEEPALIVE void page_resize(float width, float height, int across, int down) {
  page->canvas.resize(width, height, across, down);
}
EMSCRIPTEN_KEEPALIVE void page_device(int dark, int less_motion, int touch, float text_scale, float left, float top,
                                      float right, float bottom) {
  page->platform.set_device({.dark = dark != 0,
                             .less_motion = less_motion != 0,
                             .touch = touch != 0,
                             .text_scale = text_scale,
                             .inset_left = left,
                             .inset_top = top,
                             .inset_right = right,
                             .inset_bottom = bottom});
}
EMSCRIPTEN_KEEPALIVE void page_program(int works_offline, int newer_waits, int installed, int keeps_per_app) {
  page->platform.set_program({.works_offline = works_offline != 0,
                              .newer_waits = newer_waits != 0,
                              .installed = installed != 0,
                              .keeps_per_app = keeps_per_app != 0});
}
EMSCRIPTEN_KEEPALIVE void page_context_lost() {
  page->canvas.lost();
  if (page->app) page->app->pointer_cancelled();
}
EMSCRIPTEN_KEEPALIVE int page_context_back() { return page->canvas.begin_again() ? 1 : 0; }
EMSCRIPTEN_KEEPALIVE void page_hidden(int hidden) {
  if (!page->app) return;
  ImGui::GetIO().ClearInputKeys();
  if (hidden != 0)
    page->app->went_hidden();
  else
    page->app->came_visible();
  // Not at the time set for the next try: a hidden page may not live so long, and what refused may have changed meanwhile.
  page->platform.store().try_again();
}

// ---- Input ----

/// What: 0 moved, 1 down, 2 up, 3 gone (a finger left the glass, the mouse left the page).
EMSCRIPTEN_KEEPALIVE void page_pointer(int what, int touch, float x, float y) {
  ImGuiIO& io = ImGui::GetIO();
  // The source goes first: with it place and button may be taken in the same frame.
  io.AddMouseSourceEvent(touch != 0 ? ImGuiMouseSource_TouchScreen : ImGuiMouseSource_Mouse);
  if (what == 3) {
    io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
    return;
  }
  io.AddMousePosEvent(x, y);
  if (what == 1) io.AddMouseButtonEvent(0, true);
  if (what == 2) io.AddMouseButtonEvent(0, false);
}
/// The system took the finger: nothing is pressed.
EMSCRIPTEN_KEEPALIVE void page_pointer_cancelled() {
  if (page->app) page->app->pointer_cancelled();
  ImGuiIO& io = ImGui::GetIO();
  io.ClearEventsQueue();  // A press that no frame has seen yet is forgotten, too.
  io.AddMouseButtonEvent(0, false);
  io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);  // After the button: the place must not jump while it is down.
}
/// Steps of a wheel; at (x, y).
EMSCRIPTEN_KEEPALIVE void page_wheel(float x, float y, float steps) {
  ImGuiIO& io = ImGui::GetIO();
  io.AddMouseSourceEvent(ImGuiMouseSource_Mouse);
  io.AddMousePosEvent(x, y);
  io.AddMouseWheelEvent(0, steps);
}
EMSCRIPTEN_KEEPALIVE void page_pinch(float x, float y, float factor) { add_pinch({x, y}, factor); }
/// Keys while no text input has the focus, by the order of kKeys in input.js.
EMSCRIPTEN_KEEPALIVE void page_key(int key, int down, int control) {
  constexpr ImGuiKey kKeys[] = {ImGuiKey_Escape,    ImGuiKey_Enter,     ImGuiKey_Slash,      ImGuiKey_UpArrow,
                                ImGuiKey_DownArrow, ImGuiKey_LeftArrow, ImGuiKey_RightArrow, ImGuiKey_PageUp,
                                ImGuiKey_PageDown,  ImGuiKey_Home,      ImGuiKey_End,        ImGuiKey_Z};
  if (key < 0 || key >= static_cast<int>(std::size(kKeys))) return;
  ImGuiIO& io = ImGui::GetIO();
  io.AddKeyEvent(ImGuiMod_Ctrl, control != 0);
  io.AddKeyEvent(kKeys[key], down != 0);
}
EMSCRIPTEN_KEEPALIVE int page_press(std::uint32_t id) { return page->app && page->app->items().press(id) ? 1 : 0; }
EMSCRIPTEN_KEEPALIVE void page_type(std::uint32_t id, const char* text, int size, int done) {
  if (page->app) page->app->items().type(id, std::string(text, static_cast<std::size_t>(size)), done != 0);
}
EMSCRIPTEN_KEEPALIVE void page_reveal(std::uint32_t id) {
  if (page->app) page->app->items().reveal(id);
}
EMSCRIPTEN_KEEPALIVE void page_focus(std::uint32_t id) { set_look_focus(id); }
/// The system's back. 1 = there was something to go back to.
EMSCRIPTEN_KEEPALIVE int page_back() {
  if (!page->app || !page->app->can_go_back()) return 0;
  page->app->back();
  return 1;
}

// ---- Files and other answers ----

EMSCRIPTEN_KEEPALIVE void page_file(const char* name, int name_size, const char* type, int type_size, const char* bytes,
                                    int size, int dropped, double changed_ms) {
  File file{std::string(name, static_cast<std::size_t>(name_size)), std::string(bytes, static_cast<std::size_t>(size)),
            std::string(type, static_cast<std::size_t>(type_size)), Moment{static_cast<std::int64_t>(changed_ms)}};
  if (dropped != 0 && page->app)
    page->app->dropped(std::move(file));
  else
    page->platform.file_chosen(std::move(file));
}
/// Why: 0 too large, 1 the browser could not read it.
EMSCRIPTEN_KEEPALIVE void page_file_refused(const char* name, int name_size, int dropped, int why) {
  auto refused = refuse(Trouble::BadInput, why == 0 ? "page.file.large"_w : "page.file.unreadable"_w,
                        {std::string(name, static_cast<std::size_t>(name_size))}, "file");
  if (dropped != 0 && page->app)
    page->app->arrived_unread(refused.value());  // No screen has asked for it.
  else
    page->platform.file_chosen(std::move(refused));
}
/// The bytes of a photo that was asked for; at 0 = it is not there, or with size −1 could not be read now.
EMSCRIPTEN_KEEPALIVE void page_photo(int number, const char* bytes, int size) {
  page->platform.photos().came(number, bytes, size);
}
/// RGBA of a photo that was asked for; at 0 = the browser cannot decode it.
EMSCRIPTEN_KEEPALIVE void page_pixels(int number, const char* rgba, int width, int height) {
  page->platform.pixels_came(number, rgba, width, height);
}
EMSCRIPTEN_KEEPALIVE void page_answer(int number, int end) { page->platform.answered(number, end); }

/// End: as WriteEnd.
EMSCRIPTEN_KEEPALIVE void page_written(double ticket, int end, double generation, const char* detail, int size) {
  page->platform.store().written(static_cast<std::uint64_t>(ticket), static_cast<WriteEnd>(end),
                                 static_cast<std::uint64_t>(generation),
                                 std::string_view(detail, static_cast<std::size_t>(size)));
  follow_storage();
}
EMSCRIPTEN_KEEPALIVE void page_lasting(int yes) {
  page->platform.store().set_lasting(yes != 0);
  follow_storage();
}
/// Photos that found no room: their records are stored, they themselves are tried again.
EMSCRIPTEN_KEEPALIVE void page_photos_left(int count) {
  page->platform.store().set_photos_left(count);
  follow_storage();
}
/// Another tab takes the book. Answers whether something is not saved yet.
EMSCRIPTEN_KEEPALIVE int page_unsaved() { return page->platform.store().unsaved() ? 1 : 0; }
EMSCRIPTEN_KEEPALIVE void page_keep() { page->platform.store().keep(); }
EMSCRIPTEN_KEEPALIVE void page_give_up() {
  page->platform.store().give_up();
  follow_storage();
}

// ---- For the store's writes and the mirror ----

EMSCRIPTEN_KEEPALIVE const std::uint8_t* page_bytes(std::uint32_t number) {
  return page->platform.store().page(number);
}
EMSCRIPTEN_KEEPALIVE std::uint32_t page_sum(std::uint32_t number) { return page->platform.store().page_sum(number); }
EMSCRIPTEN_KEEPALIVE std::uint32_t page_count() { return page->platform.store().page_count(); }
/// The text fonts of the program, for the inputs that lie over the canvas.
EMSCRIPTEN_KEEPALIVE const unsigned char* page_font(int bold) {
  return (bold != 0 ? font_bold() : font_regular()).data();
}
EMSCRIPTEN_KEEPALIVE int page_font_size(int bold) {
  return static_cast<int>((bold != 0 ? font_bold() : font_regular()).size());
}
EMSCRIPTEN_KEEPALIVE void page_mirror_again() {
  page->mirror.forget();
  page->mirrored = 0;
}

}  // extern "C"

int main() {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.BackendPlatformName = "page";
  page = new Page;
  return 0;
}
