# The folders of core/, in their order: each may include only what it links here.
set(STEEPBOOK_WARNINGS -Wall -Wextra -Wpedantic -Wshadow)
if(STEEPBOOK_STRICT)
  list(APPEND STEEPBOOK_WARNINGS -Werror)
endif()

# One folder of core/ as a library. The include path is shared; tests/include_order and these
# link lists keep the order.
function(steepbook_folder name)
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/core/${name}/*.cpp)
  if(sources)
    add_library(${name} STATIC ${sources})
    target_include_directories(${name} PUBLIC ${CMAKE_SOURCE_DIR}/core)
    target_compile_options(${name} PRIVATE ${STEEPBOOK_WARNINGS} -fno-exceptions -fno-rtti)
    target_link_libraries(${name} PUBLIC ${ARGN})
  else()
    add_library(${name} INTERFACE)
    target_include_directories(${name} INTERFACE ${CMAKE_SOURCE_DIR}/core)
    target_link_libraries(${name} INTERFACE ${ARGN})
  endif()
endfunction()

steepbook_folder(base headers)
steepbook_folder(quantity base)
steepbook_folder(trade quantity)
steepbook_folder(host base)
steepbook_folder(book trade host sqlite)
steepbook_folder(demo book)
steepbook_folder(handover book zlib)
steepbook_folder(paper book)
steepbook_folder(look quantity host imgui)
steepbook_folder(screens demo handover paper look)
steepbook_folder(app screens)

# Tables made at build time: words from assets/strings, zones from the system's zone files.
find_package(Python3 REQUIRED COMPONENTS Interpreter)
set(GENERATED ${CMAKE_BINARY_DIR}/generated)
file(GLOB STRING_FILES CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/assets/strings/*.txt)
add_custom_command(OUTPUT ${GENERATED}/words_table.cpp
  COMMAND ${Python3_EXECUTABLE} ${CMAKE_SOURCE_DIR}/assets/strings/make_words.py ${GENERATED}/words_table.cpp ${STRING_FILES}
  DEPENDS ${STRING_FILES} ${CMAKE_SOURCE_DIR}/assets/strings/make_words.py)
add_custom_command(OUTPUT ${GENERATED}/zone_table.cpp
  COMMAND ${Python3_EXECUTABLE} ${CMAKE_SOURCE_DIR}/core/base/make_zones.py ${GENERATED}/zone_table.cpp
  DEPENDS ${CMAKE_SOURCE_DIR}/core/base/make_zones.py)
target_sources(base PRIVATE ${GENERATED}/words_table.cpp ${GENERATED}/zone_table.cpp)
