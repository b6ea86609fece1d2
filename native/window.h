#pragma once
/// The desktop window: GLFW and OpenGL 3 around the application's frames.

#include "native/platform_desktop.h"

namespace steep {

/// Runs until the window is closed; the program's exit status.
int run_window(PlatformDesktop& platform);

}  // namespace steep
