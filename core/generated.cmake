# Made at build time: the words of both languages, the zone rules, the fonts.
# GENERATED_<folder> is what steepbook_folder(<folder>) compiles besides the folder's own files.
if(EXISTS /usr/bin/python3)
  set(Python3_EXECUTABLE /usr/bin/python3)  # Debian's own: it has fontTools.
endif()
find_package(Python3 REQUIRED COMPONENTS Interpreter)
set(generated ${CMAKE_BINARY_DIR}/generated)
file(MAKE_DIRECTORY ${generated})

file(GLOB strings CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/assets/strings/*.txt)
set(make_words ${CMAKE_SOURCE_DIR}/assets/strings/make_words.py)
add_custom_command(OUTPUT ${generated}/words_table.cpp
  COMMAND ${Python3_EXECUTABLE} ${make_words} ${generated}/words_table.cpp ${strings}
  DEPENDS ${make_words} ${strings} COMMENT "Words of both languages")

# Zones: from the system's own zone files, so an update of them updates the table.
set(make_zones ${CMAKE_SOURCE_DIR}/core/base/make_zones.py)
set(zone_files)
if(EXISTS /usr/share/zoneinfo/tzdata.zi)
  set(zone_files /usr/share/zoneinfo/tzdata.zi)
endif()
add_custom_command(OUTPUT ${generated}/zone_table.cpp
  COMMAND ${Python3_EXECUTABLE} ${make_zones} ${generated}/zone_table.cpp
  DEPENDS ${make_zones} ${zone_files} COMMENT "Zone rules")

set(make_licenses ${CMAKE_SOURCE_DIR}/assets/make_licenses.py)
set(license_lists ${CMAKE_SOURCE_DIR}/LICENSE ${CMAKE_SOURCE_DIR}/assets/licenses.txt)
add_custom_command(OUTPUT ${generated}/licenses.cpp
  COMMAND ${Python3_EXECUTABLE} ${make_licenses} ${generated}/licenses.cpp ${license_lists} ${STEEPBOOK_PACKAGES}
  DEPENDS ${make_licenses} ${license_lists} COMMENT "Licences")
set(GENERATED_base ${generated}/words_table.cpp ${generated}/zone_table.cpp ${generated}/licenses.cpp)

# Fonts: only the glyphs that assets/fonts names, the files kept beside for the page and the reports.
set(make_fonts ${CMAKE_SOURCE_DIR}/assets/fonts/make_fonts.py)
set(glyph_lists ${CMAKE_SOURCE_DIR}/assets/fonts/text_glyphs.txt ${CMAKE_SOURCE_DIR}/assets/fonts/icons.txt)
add_custom_command(OUTPUT ${generated}/fonts_data.cpp
  BYPRODUCTS ${generated}/fonts/regular.otf ${generated}/fonts/bold.otf ${generated}/fonts/icons.ttf
  COMMAND ${Python3_EXECUTABLE} ${make_fonts} ${generated}/fonts ${generated}/fonts_data.cpp
  DEPENDS ${make_fonts} ${glyph_lists} COMMENT "Fonts")
set(GENERATED_look ${generated}/fonts_data.cpp)
