# The page: the core and wasm/*.cpp as WebAssembly, wasm/page/ around it, put together in
# STEEPBOOK_PAGE_DIR. The page store is plain C++ and is compiled in every build: its tests run natively too.
file(GLOB store_sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/wasm/page_store*.cpp ${CMAKE_SOURCE_DIR}/wasm/page_vfs*.cpp)
add_library(page_store STATIC ${store_sources})
target_compile_options(page_store PRIVATE ${STEEPBOOK_WARNINGS} -fno-exceptions -fno-rtti)
target_include_directories(page_store PUBLIC ${CMAKE_SOURCE_DIR})
target_link_libraries(page_store PUBLIC host PRIVATE sqlite zlib)
if(NOT EMSCRIPTEN)
  return()
endif()

add_library(imgui_page STATIC ${STEEPBOOK_IMGUI_DIR}/backends/imgui_impl_opengl3.cpp)
target_include_directories(imgui_page SYSTEM PUBLIC ${STEEPBOOK_IMGUI_DIR}/backends)
# It asks for the state before each frame, to put it back. Nobody else draws here, and each such question waits until the
# graphics process has done all that was asked before: the answer is ours (canvas.cpp).
target_compile_definitions(imgui_page PRIVATE IMGUI_IMPL_OPENGL_ES3 NDEBUG glGetIntegerv=steepbook_gl_state)
target_compile_options(imgui_page PRIVATE -w -fno-exceptions -fno-rtti)
target_link_libraries(imgui_page PUBLIC look imgui)

file(GLOB page_sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/wasm/*.cpp)
list(REMOVE_ITEM page_sources ${store_sources})
file(GLOB_RECURSE page_files CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/wasm/page/*)

set(icons ${CMAKE_BINARY_DIR}/icons)
add_custom_command(OUTPUT ${icons}/icon-512.png
  COMMAND ${Python3_EXECUTABLE} ${CMAKE_SOURCE_DIR}/assets/icons/make_icons.py ${icons}
  DEPENDS ${CMAKE_SOURCE_DIR}/assets/icons/make_icons.py COMMENT "Icons")

# A page in `folder` around the class App that the other arguments define: the program's own, or a small
# one of the browser tests that tries single things of the page.
function(steepbook_page name folder)
  add_executable(${name} ${page_sources})
  set_target_properties(${name} PROPERTIES OUTPUT_NAME ${name} SUFFIX .js LINK_DEPENDS_NO_SHARED ON)
  target_compile_options(${name} PRIVATE ${STEEPBOOK_WARNINGS} -fno-exceptions -fno-rtti
    -Wno-dollar-in-identifier-extension -Wno-gnu-zero-variadic-macro-arguments)  # EM_JS needs both.
  target_include_directories(${name} PRIVATE ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/core)
  target_link_libraries(${name} PRIVATE ${ARGN} imgui_page page_store sqlite_page zlib)
  # Nothing of the file system, exceptions, threads or ASYNCIFY: they would double what a phone loads.
  # MAXIMUM_MEMORY: the default reserves 2 GB of address space, which fails on phones when reloading.
  target_link_options(${name} PRIVATE -fno-exceptions --no-entry
    -sFILESYSTEM=0 -sENVIRONMENT=web -sMIN_WEBGL_VERSION=2 -sMAX_WEBGL_VERSION=2
    -sALLOW_MEMORY_GROWTH=1 -sMEMORY_GROWTH_LINEAR_STEP=16MB -sINITIAL_MEMORY=32MB -sMAXIMUM_MEMORY=512MB -sTOTAL_STACK=1MB
    -sMODULARIZE=1 -sEXPORT_NAME=createApp -sDYNAMIC_EXECUTION=0
    -sEXPORTED_FUNCTIONS=_main,_malloc,_free -sEXPORTED_RUNTIME_METHODS=[])
  add_custom_command(OUTPUT ${CMAKE_BINARY_DIR}/${name}.stamp
    COMMAND ${Python3_EXECUTABLE} ${CMAKE_SOURCE_DIR}/wasm/pack.py ${CMAKE_SOURCE_DIR}/wasm/page
      $<TARGET_FILE:${name}> $<TARGET_FILE_DIR:${name}>/${name}.wasm ${icons}
      ${CMAKE_SOURCE_DIR}/core/paper/style.cpp ${PROJECT_VERSION} ${folder}
    COMMAND node ${CMAKE_SOURCE_DIR}/wasm/compress.mjs ${folder}
    COMMAND ${CMAKE_COMMAND} -E touch ${CMAKE_BINARY_DIR}/${name}.stamp
    DEPENDS ${name} ${page_files} ${icons}/icon-512.png ${CMAKE_SOURCE_DIR}/wasm/pack.py ${CMAKE_SOURCE_DIR}/wasm/compress.mjs
      ${CMAKE_SOURCE_DIR}/core/paper/style.cpp
    COMMENT "The page, in ${folder}" VERBATIM)
  add_custom_target(${name}_folder ALL DEPENDS ${CMAKE_BINARY_DIR}/${name}.stamp)
endfunction()

steepbook_page(page ${STEEPBOOK_PAGE_DIR} app)

# The browser tests' own small program; not shipped.
add_library(probe_app STATIC ${CMAKE_SOURCE_DIR}/tests/browser/probe/probe.cpp)
target_include_directories(probe_app PRIVATE ${CMAKE_SOURCE_DIR}/core)
target_compile_options(probe_app PRIVATE ${STEEPBOOK_WARNINGS} -fno-exceptions -fno-rtti)
target_link_libraries(probe_app PUBLIC look host PRIVATE sqlite)
steepbook_page(probe ${CMAKE_BINARY_DIR}/probe_page probe_app)
add_custom_target(browser_pages)
add_dependencies(browser_pages page_folder probe_folder)
