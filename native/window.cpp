#include "native/window.h"

#include <GLFW/glfw3.h>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

#include "app/app.h"
#include "look/fonts.h"
#include "native/disk.h"

namespace steep {
namespace {

constexpr int kFramesAfterInput = 3;      // Input is spread over the next frames by the event queue.
constexpr double kLookForChanges = 2.0;   // Seconds between looks at a book that a terminal may change.

struct Running {
  App* app = nullptr;
  int frames = kFramesAfterInput;
};

void woken(GLFWwindow* window) {
  static_cast<Running*>(glfwGetWindowUserPointer(window))->frames = kFramesAfterInput;
}

void dropped(GLFWwindow* window, int count, const char** paths) {
  auto* running = static_cast<Running*>(glfwGetWindowUserPointer(window));
  for (int i = 0; i < count; ++i)
    if (auto bytes = read_file(paths[i]))
      running->app->dropped({std::filesystem::path(paths[i]).filename().string(), std::move(*bytes), ""});
  woken(window);
}

/// Every kind of input asks for frames; installed before ImGui's own callbacks, which pass on to these.
void watch_input(GLFWwindow* window) {
  glfwSetCursorPosCallback(window, [](GLFWwindow* w, double, double) { woken(w); });
  glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int, int, int) { woken(w); });
  glfwSetScrollCallback(window, [](GLFWwindow* w, double, double) { woken(w); });
  glfwSetKeyCallback(window, [](GLFWwindow* w, int, int, int, int) { woken(w); });
  glfwSetCharCallback(window, [](GLFWwindow* w, unsigned) { woken(w); });
  glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int) { woken(w); });
  glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { woken(w); });
  glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { woken(w); });
  glfwSetDropCallback(window, dropped);
}

void draw(GLFWwindow* window, App& app) {
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplGlfw_NewFrame();
  ImGui::NewFrame();
  app.frame();
  ImGui::Render();
  int width = 0, height = 0;
  glfwGetFramebufferSize(window, &width, &height);
  glViewport(0, 0, width, height);
  const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(app.ground());
  glClearColor(ground.x, ground.y, ground.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  glfwSwapBuffers(window);
}

void loop(GLFWwindow* window, App& app, PlatformDesktop& platform, Running& running) {
  while (!glfwWindowShouldClose(window)) {
    const bool busy = running.frames > 0 || app.needs_frame();
    double wait = busy ? 0 : kLookForChanges;
    if (const Moment next = app.next_wake(); !busy && next.ms != 0)
      wait = std::clamp(static_cast<double>(next - platform.now().at) / kSecond, 0.0, wait);
    if (platform.waits_for_answer()) wait = std::min(wait, 0.1);
    if (wait > 0) glfwWaitEventsTimeout(wait);
    else glfwPollEvents();
    platform.answer();
    app.book_changed_elsewhere();
    const Moment next = app.next_wake();
    const bool due = next.ms != 0 && next <= platform.now().at;
    if (running.frames == 0 && !due && !app.needs_frame()) continue;
    if (running.frames > 0) --running.frames;
    draw(window, app);
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
    ImGui_ImplGlfw_InitForOpenGL(window, true);
    ImGui_ImplOpenGL3_Init("#version 150");
    loop(window, app, platform, running);
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    platform.clipboard = nullptr;
  }
  ImGui::DestroyContext();
  glfwDestroyWindow(window);
  glfwTerminate();
  return 0;
}

}  // namespace steep
