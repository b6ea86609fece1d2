#include "wasm/canvas.h"

#include <GLES3/gl3.h>
#include <emscripten/html5.h>
#include <imgui.h>
#include <imgui_impl_opengl3.h>

#include <algorithm>

/// For the renderer: what a context begins with. All else is asked.
extern "C" void steepbook_gl_state(GLenum what, GLint* out) {
  switch (what) {
    case GL_VIEWPORT:
    case GL_SCISSOR_BOX: std::fill_n(out, 4, 0); return;
    case GL_ACTIVE_TEXTURE: *out = GL_TEXTURE0; return;
    case GL_BLEND_SRC_RGB:
    case GL_BLEND_SRC_ALPHA: *out = GL_ONE; return;
    case GL_BLEND_EQUATION_RGB:
    case GL_BLEND_EQUATION_ALPHA: *out = GL_FUNC_ADD; return;
    case GL_BLEND_DST_RGB:
    case GL_BLEND_DST_ALPHA:
    case GL_CURRENT_PROGRAM:
    case GL_TEXTURE_BINDING_2D:
    case GL_SAMPLER_BINDING:
    case GL_ARRAY_BUFFER_BINDING:
    case GL_ELEMENT_ARRAY_BUFFER_BINDING:
    case GL_PIXEL_UNPACK_BUFFER_BINDING:
    case GL_VERTEX_ARRAY_BINDING: *out = 0; return;
    default: glGetIntegerv(what, out);
  }
}

namespace steep {

bool Canvas::make_current() {
  EmscriptenWebGLContextAttributes wish;
  emscripten_webgl_init_context_attributes(&wish);
  wish.alpha = false;  // Else text shows what lies behind the canvas.
  wish.depth = wish.stencil = false;
  wish.antialias = false;  // Dear ImGui smooths its own edges.
  wish.majorVersion = 2;
  wish.powerPreference = EM_WEBGL_POWER_PREFERENCE_LOW_POWER;
  context_ = emscripten_webgl_create_context("#canvas", &wish);
  return context_ > 0 && emscripten_webgl_make_context_current(context_) == EMSCRIPTEN_RESULT_SUCCESS;
}

bool Canvas::begin() {
  if (!make_current()) return false;
  renderer_ = there_ = ImGui_ImplOpenGL3_Init("#version 300 es");
  return there_;
}

bool Canvas::begin_again() {
  if (renderer_) ImGui_ImplOpenGL3_Shutdown();  // Marks the textures, so that they are made anew.
  renderer_ = false;
  if (context_ > 0) emscripten_webgl_destroy_context(context_);
  if (!begin()) return false;
  while (glGetError() != GL_NO_ERROR) {}  // What Shutdown complained about: objects of the dead context.
  return true;
}

void Canvas::resize(float width, float height, int across, int down) {
  width_ = width;
  height_ = height;
  across_ = across;
  down_ = down;
  density_ = width > 0 ? static_cast<float>(across) / width : 1;
}

void Canvas::new_frame() {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {width_, height_};
  io.DisplayFramebufferScale = {density_, height_ > 0 ? static_cast<float>(down_) / height_ : density_};
  ImGui_ImplOpenGL3_NewFrame();
}

void Canvas::draw(ImDrawData* data, unsigned ground) {
  glViewport(0, 0, across_, down_);
  const auto part = [&](int shift) { return static_cast<float>(ground >> shift & 255) / 255.0f; };
  glClearColor(part(0), part(8), part(16), 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(data);
}

}  // namespace steep
