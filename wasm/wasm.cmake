# The page: the core and wasm/*.cpp as WebAssembly, wasm/page/ as it stands, put together in
# STEEPBOOK_PAGE_DIR. The page store is plain C++ and is compiled in every build: its tests run natively too.
file(GLOB store_sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/wasm/page_store*.cpp ${CMAKE_SOURCE_DIR}/wasm/page_vfs*.cpp)
if(store_sources)
  add_library(page_store STATIC ${store_sources})
  target_compile_options(page_store PRIVATE ${STEEPBOOK_WARNINGS} -fno-exceptions -fno-rtti)
  target_include_directories(page_store PUBLIC ${CMAKE_SOURCE_DIR})
  target_link_libraries(page_store PUBLIC host PRIVATE sqlite zlib)
endif()

file(GLOB page_sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/wasm/*.cpp)
list(REMOVE_ITEM page_sources ${store_sources})
if(NOT EMSCRIPTEN OR NOT page_sources)
  return()
endif()

add_library(imgui_page STATIC ${STEEPBOOK_IMGUI_DIR}/backends/imgui_impl_opengl3.cpp)
target_include_directories(imgui_page SYSTEM PUBLIC ${STEEPBOOK_IMGUI_DIR}/backends)
target_compile_definitions(imgui_page PRIVATE IMGUI_IMPL_OPENGL_ES3 NDEBUG)
target_compile_options(imgui_page PRIVATE -w -fno-exceptions -fno-rtti)
target_link_libraries(imgui_page PUBLIC look imgui)

add_executable(page ${page_sources})
set_target_properties(page PROPERTIES OUTPUT_NAME steepbook SUFFIX .js)
target_compile_options(page PRIVATE ${STEEPBOOK_WARNINGS} -fno-exceptions -fno-rtti
  -Wno-dollar-in-identifier-extension -Wno-gnu-zero-variadic-macro-arguments)  # EM_JS needs both.
target_include_directories(page PRIVATE ${CMAKE_SOURCE_DIR})
target_compile_definitions(page PRIVATE STEEPBOOK_VERSION="${PROJECT_VERSION}")
target_link_libraries(page PRIVATE app imgui_page sqlite_page)
if(TARGET page_store)
  target_link_libraries(page PRIVATE page_store)
endif()

# Nothing of the file system, exceptions, threads or ASYNCIFY: they would double what a phone loads.
# MAXIMUM_MEMORY: the default reserves 2 GB of address space, which fails on phones when reloading.
target_link_options(page PRIVATE -fno-exceptions
  -sFILESYSTEM=0 -sENVIRONMENT=web -sMIN_WEBGL_VERSION=2 -sMAX_WEBGL_VERSION=2
  -sALLOW_MEMORY_GROWTH=1 -sINITIAL_MEMORY=32MB -sMAXIMUM_MEMORY=512MB -sTOTAL_STACK=1MB
  -sMODULARIZE=1 -sEXPORT_NAME=createApp -sDYNAMIC_EXECUTION=0
  -sEXPORTED_FUNCTIONS=_main,_malloc,_free -sEXPORTED_RUNTIME_METHODS=UTF8ToString,stringToUTF8,lengthBytesUTF8)

# The page as it is served: program, the files of wasm/page, the fonts.
file(GLOB_RECURSE page_files CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/wasm/page/*)
add_custom_command(OUTPUT ${CMAKE_BINARY_DIR}/page.stamp
  COMMAND ${CMAKE_COMMAND} -E rm -rf ${STEEPBOOK_PAGE_DIR}
  COMMAND ${CMAKE_COMMAND} -E copy_directory ${CMAKE_SOURCE_DIR}/wasm/page ${STEEPBOOK_PAGE_DIR}
  COMMAND ${CMAKE_COMMAND} -E copy ${CMAKE_BINARY_DIR}/steepbook.js ${CMAKE_BINARY_DIR}/steepbook.wasm
    ${generated}/fonts/regular.otf ${generated}/fonts/bold.otf ${STEEPBOOK_PAGE_DIR}
  COMMAND ${CMAKE_COMMAND} -E touch ${CMAKE_BINARY_DIR}/page.stamp
  DEPENDS page ${page_files} COMMENT "The page, in ${STEEPBOOK_PAGE_DIR}")
add_custom_target(page_folder ALL DEPENDS ${CMAKE_BINARY_DIR}/page.stamp)
