# The desktop program: window (GLFW, OpenGL 3) and command line. CLI11, nlohmann/json and Boost.Beast throw, so
# this folder alone is compiled with exceptions; none of them crosses into core/.
file(GLOB native_sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/native/*.cpp)
find_package(glfw3 3.3 REQUIRED)
find_package(OpenGL REQUIRED COMPONENTS OpenGL)

add_library(imgui_desktop STATIC
  ${STEEPBOOK_IMGUI_DIR}/backends/imgui_impl_glfw.cpp
  ${STEEPBOOK_IMGUI_DIR}/backends/imgui_impl_opengl3.cpp)
target_include_directories(imgui_desktop SYSTEM PUBLIC ${STEEPBOOK_IMGUI_DIR}/backends)
target_compile_options(imgui_desktop PRIVATE -w)
target_link_libraries(imgui_desktop PUBLIC look imgui glfw OpenGL::GL ${CMAKE_DL_LIBS})

add_library(photo_decode STATIC ${CMAKE_SOURCE_DIR}/native/photo_decode.cpp)
target_compile_options(photo_decode PRIVATE ${STEEPBOOK_WARNINGS} -fno-rtti)
target_include_directories(photo_decode PUBLIC ${CMAKE_SOURCE_DIR})
target_link_libraries(photo_decode PUBLIC book PRIVATE turbojpeg png webp)
list(REMOVE_ITEM native_sources ${CMAKE_SOURCE_DIR}/native/photo_decode.cpp)

add_executable(steepbook ${native_sources})
target_compile_options(steepbook PRIVATE ${STEEPBOOK_WARNINGS} -fno-rtti)
target_include_directories(steepbook PRIVATE ${CMAKE_SOURCE_DIR})
target_compile_definitions(steepbook PRIVATE
  STEEPBOOK_VERSION="${PROJECT_VERSION}" STEEPBOOK_PAGE_DIR="${STEEPBOOK_PAGE_DIR}")
target_link_libraries(steepbook PRIVATE app imgui_desktop photo_decode)
