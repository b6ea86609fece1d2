#include "native/window.h"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <optional>

#include "app/app.h"
#include "look/fonts.h"
#include "look/picture.h"
#include "native/disk.h"
#include "native/folder_watch.h"

namespace steep {
namespace {

constexpr int kFramesAfterInput = 3;  // Input is spread over the next frames by the event queue.
constexpr int kTurnsBetweenFrames = 3;
constexpr std::int64_t kTurnMs = 30;     // Of a long job.
constexpr double kLookForChanges = 2.0;  // Seconds between looks at a book that a terminal may change.

struct Running {
  App* app = nullptr;
  int frames = kFramesAfterInput;
};

void woken(GLFWwindow* window) { static_cast<Running*>(glfwGetWindowUserPointer(window))->frames = kFramesAfterInput; }

void dropped(GLFWwindow* window, int count, const char** paths) {
  auto* running = static_cast<Running*>(glfwGetWindowUserPointer(window));
  for (int i = 0; i < count; ++i) {
    auto bytes = read_to_take(paths[i]);
    if (bytes)
      running->app->dropped(
          {std::filesystem::path(paths[i]).filename().string(), std::move(*bytes), "", changed_at(paths[i])});
    else
      running->app->arrived_unread(bytes.error());
  }
  woken(window);
}

/// The look's unit is 1 dp. Some systems count a window in pixels and say how many are 1 dp, some count in dp.
struct WindowScale {
  float per_dp = 1;   // Window units.
  float density = 1;  // Pixels per dp.
};

WindowScale scale_of(GLFWwindow* window) {
  float across = 1, down = 1;
  int width = 0, height = 0, pixels_wide = 0, pixels_high = 0;
  glfwGetWindowContentScale(window, &across, &down);
  glfwGetWindowSize(window, &width, &height);
  glfwGetFramebufferSize(window, &pixels_wide, &pixels_high);
  if (width <= 0 || pixels_wide <= 0 || across <= 0) return {};
  return {across * static_cast<float>(width) / static_cast<float>(pixels_wide), across};
}

/// Every kind of input asks for frames, and goes on to Dear ImGui, places in dp.
void watch_input(GLFWwindow* window) {
  glfwSetCursorPosCallback(window, [](GLFWwindow* w, double x, double y) {
    woken(w);
    const double per_dp = static_cast<double>(scale_of(w).per_dp);
    ImGui_ImplGlfw_CursorPosCallback(w, x / per_dp, y / per_dp);
  });
  glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int entered) {
    woken(w);
    ImGui_ImplGlfw_CursorEnterCallback(w, entered);
  });
  glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int which, int action, int with) {
    woken(w);
    ImGui_ImplGlfw_MouseButtonCallback(w, which, action, with);
  });
  glfwSetScrollCallback(window, [](GLFWwindow* w, double x, double y) {
    woken(w);
    ImGui_ImplGlfw_ScrollCallback(w, x, y);
  });
  glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int code, int action, int with) {
    woken(w);
    ImGui_ImplGlfw_KeyCallback(w, key, code, action, with);
  });
  glfwSetCharCallback(window, [](GLFWwindow* w, unsigned letter) {
    woken(w);
    ImGui_ImplGlfw_CharCallback(w, letter);
  });
  glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int focused) {
    woken(w);
    ImGui_ImplGlfw_WindowFocusCallback(w, focused);
  });
  glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { woken(w); });
  glfwSetWindowContentScaleCallback(window, [](GLFWwindow* w, float, float) { woken(w); });
  glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { woken(w); });
  glfwSetDropCallback(window, dropped);
}

void draw(GLFWwindow* window, App& app) {
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplGlfw_NewFrame();
  int width = 0, height = 0;
  glfwGetFramebufferSize(window, &width, &height);
  const WindowScale scale = scale_of(window);
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {static_cast<float>(width) / scale.density, static_cast<float>(height) / scale.density};
  io.DisplayFramebufferScale = {scale.density, scale.density};
  ImGui::NewFrame();
  app.frame();
  ImGui::Render();
  glViewport(0, 0, width, height);
  const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(app.ground());
  glClearColor(ground.x, ground.y, ground.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  glfwSwapBuffers(window);
}

/// After so long a file that could not be taken in, for the disk was full, is tried again.
constexpr std::chrono::seconds kTryAgain{60};

/// The watched folder, as the settings have it just now.
class Watching {
 public:
  /// True when something came of the look.
  bool look(App& app, PlatformDesktop& platform) {
    const std::string folder = platform.setting("watch-folder");
    if (folder.empty())
      watch_.reset();
    else if (!watch_ || watch_->folder() != folder)
      watch_.emplace(folder);
    if (!watch_ || !app.book() || app.needs_frame()) return false;
    bool came = false;
    if (const auto name = app.to_come_again()) watch_->again(*name, kTryAgain);
    // A stick that was pulled out is no trouble: it may come back.
    if (auto found = watch_->next(*app.book()); found && *found) {
      came = true;
      if (auto& file = (*found)->file; !file)
        app.arrived_unread(file.error());
      else if (came = app.arrived(std::move(*file)); !came)
        watch_->again((*found)->name);
    }
    if (const auto wrote = watch_->answer(*app.book()); wrote && *wrote) came = true;
    if (const auto photos = watch_->meet_photos(*app.book(), platform.photos()); photos && photos->came > 0)
      came = true;
    return came;
  }

 private:
  std::optional<FolderWatch> watch_;
};

/// A long job goes on between frames, unless somebody presses something.
void work(App& app, const Running& running) {
  for (int turn = 0; turn < kTurnsBetweenFrames && running.frames == 0 && app.has_job(); ++turn) {
    app.work(kTurnMs);
    glfwPollEvents();
  }
}

void loop(GLFWwindow* window, App& app, PlatformDesktop& platform, Running& running) {
  Watching watching;
  double looked = 0;
  while (!glfwWindowShouldClose(window)) {
    const bool busy = running.frames > 0 || app.needs_frame();
    double wait = busy ? 0 : kLookForChanges;
    if (const Moment next = app.next_wake(); !busy && next.ms != 0)
      wait = std::clamp(static_cast<double>(next - platform.now().at) / kSecond, 0.0, wait);
    if (platform.waits_for_answer()) wait = std::min(wait, 0.1);
    if (wait > 0)
      glfwWaitEventsTimeout(wait);
    else
      glfwPollEvents();
    platform.answer();
    app.book_changed_elsewhere();
    if (const double time = glfwGetTime(); time - looked >= kLookForChanges) {
      looked = time;
      if (watching.look(app, platform)) woken(window);
    }
    const Moment next = app.next_wake();
    const bool due = next.ms != 0 && next <= platform.now().at;
    if (running.frames == 0 && !due && !app.needs_frame()) continue;
    if (running.frames > 0) --running.frames;
    draw(window, app);
    work(app, running);
  }
}

}  // namespace

int run_window(PlatformDesktop& platform) {
  glfwSetErrorCallback([](int code, const char* text) { std::fprintf(stderr, "window: %s (%d)\n", text, code); });
  if (!glfwInit()) return 2;
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 2);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
  glfwWindowHint(GLFW_SCALE_TO_MONITOR, GLFW_TRUE);
  GLFWwindow* window = glfwCreateWindow(1440, 900, "Steepbook", nullptr, nullptr);
  if (!window) {
    glfwTerminate();
    return 2;
  }
  glfwMakeContextCurrent(window);
  glfwSwapInterval(1);
  platform.clipboard = [window](const std::string& text) { glfwSetClipboardString(window, text.c_str()); };

  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  ImGui::GetIO().ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  load_fonts(*ImGui::GetIO().Fonts);
  {
    App app(platform);
    Running running{&app};
    glfwSetWindowUserPointer(window, &running);
    watch_input(window);
    ImGui_ImplGlfw_InitForOpenGL(window, false);
    ImGui_ImplOpenGL3_Init("#version 150");
    loop(window, app, platform, running);
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    platform.clipboard = nullptr;
  }
  end_pictures();
  ImGui::DestroyContext();
  glfwDestroyWindow(window);
  glfwTerminate();
  return 0;
}

}  // namespace steep
