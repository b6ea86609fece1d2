#pragma once
/// Compile-time choices for Dear ImGui, used by every part that includes it.

#include <cstdlib>

#define IMGUI_DISABLE_OBSOLETE_FUNCTIONS
#define IMGUI_DISABLE_DEMO_WINDOWS
#define IMGUI_DISABLE_DEBUG_TOOLS
#define IMGUI_DISABLE_FILE_FUNCTIONS
#define IMGUI_DISABLE_DEFAULT_FONT  // The house has its own fonts.
#define IMGUI_ENABLE_TEST_ENGINE    // Item hooks; look/item_hooks.cpp fills the item tree from them.
