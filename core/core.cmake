# The folders of core/, in their order: each sees only what it links here.
set(STEEPBOOK_WARNINGS -Wall -Wextra -Wpedantic -Wshadow)
if(STEEPBOOK_STRICT)
  list(APPEND STEEPBOOK_WARNINGS -Werror)
endif()

# One folder of core/ as a library. What follows the name are the folders and packages that its
# headers may use; those after PRIVATE only its own .cpp files see.
#
# Includes are written from core/ ("base/text.h"). The include path of a folder holds nothing but a
# link to that folder, so one that is not linked here is not found by the compiler.
function(steepbook_folder name)
  cmake_parse_arguments(SEES "" "" PRIVATE ${ARGN})
  set(reach ${CMAKE_BINARY_DIR}/reach/${name})
  if(NOT EXISTS ${reach}/${name})
    file(MAKE_DIRECTORY ${reach})
    file(CREATE_LINK ${CMAKE_SOURCE_DIR}/core/${name} ${reach}/${name} SYMBOLIC)
  endif()
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/core/${name}/*.cpp)
  if(sources)
    add_library(${name} STATIC ${sources} ${GENERATED_${name}})
    target_include_directories(${name} PUBLIC ${reach})
    target_compile_options(${name} PRIVATE ${STEEPBOOK_WARNINGS} -fno-exceptions -fno-rtti)
    target_link_libraries(${name} PUBLIC ${SEES_UNPARSED_ARGUMENTS} PRIVATE ${SEES_PRIVATE})
  else()
    add_library(${name} INTERFACE)
    target_include_directories(${name} INTERFACE ${reach})
    target_link_libraries(${name} INTERFACE ${SEES_UNPARSED_ARGUMENTS})
  endif()
endfunction()

steepbook_folder(base headers)
steepbook_folder(quantity base)
steepbook_folder(trade quantity)
steepbook_folder(host base)
steepbook_folder(book trade host PRIVATE sqlite)
steepbook_folder(demo book)
steepbook_folder(handover demo PRIVATE zlib sodium)
steepbook_folder(paper handover)
steepbook_folder(look quantity host imgui)
steepbook_folder(screens paper look)
steepbook_folder(app screens)

# Dear ImGui calls the item hooks that look/ defines.
get_target_property(kind look TYPE)
if(kind STREQUAL STATIC_LIBRARY)
  target_link_libraries(imgui PRIVATE look)
endif()
