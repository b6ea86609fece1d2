#pragma once
/// The running program: one book, one window, where the person is, and what happens to what they ask for.
///
/// A front end makes a Dear ImGui context, fills its input and sizes, and calls, once a frame:
///   ImGui::NewFrame();  app.frame();  ImGui::Render();
/// `io.DisplaySize` is in dp, `io.DisplayFramebufferScale` the device pixels per dp. Time comes from
/// Platform::now alone. Frames are wanted on input, when `needs_frame()`, and at `next_wake()`: an idle
/// program draws none.

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/words.h"
#include "host/platform.h"
#include "look/item_tree.h"
#include "look/tokens.h"

struct ImGuiContext;

namespace steep {

class Book;

struct AppOptions {
  bool native_text = true;  ///< Text fields are ImGui's own; false on the page, where real inputs lie over them.
  /// Leaves for what hands out the stored book as a file without opening it; nullptr where it is a file already.
  void (*get_book_out)() = nullptr;
};

class App {
 public:
  /// Opens the book at platform.book_place() and loads the fonts into the current Dear ImGui context. A
  /// book that cannot be opened is a screen that says so. The platform outlives the app.
  explicit App(Platform& platform, AppOptions options = {});
  ~App();
  App(const App&) = delete;
  App& operator=(const App&) = delete;

  /// The content of one frame, between ImGui::NewFrame and ImGui::Render.
  void frame();

  /// Is a job under way whose progress is on screen: a take, the making of the demo farm? It goes on within frames; a
  /// front end that gives it time between them too has it done sooner.
  bool has_job() const;
  /// Goes on with it for about that long. Nothing is drawn.
  void work(std::int64_t milliseconds);

  ItemTree& items();
  /// Is a frame wanted now: something moves, a request waits in the item tree, a job has work left?
  bool needs_frame() const;
  /// When the next frame is wanted at the latest without input: the next minute, a timer of a screen.
  Moment next_wake() const;

  // What the system tells.
  void dropped(File file);  ///< A file was dropped on the window, or came by the share sheet.
  /// A file appeared in the watched folder: taken in without being asked for, its outcome told in a line. False
  /// while another take, a pass or the demo is under way: try again later.
  bool arrived(File file);
  /// The name of one that was taken on and then could not be taken in for now (the disk is full, a pass began meanwhile): it
  /// should come again later. That it was not taken in is told once. nullopt = none since the last time of asking.
  std::optional<std::string> to_come_again();
  /// It appeared, and cannot be read just now.
  void arrived_unread(const Problem& problem);
  void back();                    ///< The system's back: arrow, Escape, history.
  bool can_go_back() const;       ///< Else the system may leave the program.
  void went_hidden();             ///< Drafts are kept, the finger is forgotten.
  void came_visible();            ///< The clock may have jumped.
  void pointer_cancelled();       ///< The system took the finger away.
  void storage_changed();         ///< The save state moved: the mark has to be drawn anew.
  void book_changed_elsewhere();  ///< Another program may have written: looks and draws anew if so.

  // What the system wants to know.
  Language language() const;  ///< For the page's lang attribute.
  Theme theme() const;
  Color ground() const;       ///< To clear with.
  std::string title() const;  ///< Of the window: 'Alder Reach · Steepbook'.
  Book* book();               ///< nullptr while it could not be opened.

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace steep
