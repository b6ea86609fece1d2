# Third-party code, compiled once with its own warnings off.

# Header-only libraries. For the page they are reached through a folder of links: all of
# /usr/include must not leak into a cross build.
add_library(headers INTERFACE)
if(EMSCRIPTEN)
  set(links ${STEEPBOOK_PACKAGES}/headers)
  file(MAKE_DIRECTORY ${links})
  foreach(name tl fmt Eigen boost date doctest)
    foreach(place /usr/include/${name} /usr/include/eigen3/${name})
      if(EXISTS ${place} AND NOT EXISTS ${links}/${name})
        file(CREATE_LINK ${place} ${links}/${name} SYMBOLIC)
      endif()
    endforeach()
  endforeach()
  target_include_directories(headers SYSTEM INTERFACE ${links})
else()
  target_include_directories(headers SYSTEM INTERFACE /usr/include/eigen3)
endif()
target_compile_definitions(headers INTERFACE FMT_HEADER_ONLY BOOST_NO_EXCEPTIONS)
if(EMSCRIPTEN)
  # Without the first fmt brings the locales of the C++ library along: 75 KB. Nothing prints a long double, whose
  # arithmetic is done in software there.
  target_compile_definitions(headers INTERFACE FMT_STATIC_THOUSANDS_SEPARATOR=',' FMT_USE_LONG_DOUBLE=0)
endif()

# SQLite: one version on both sides; sqlite_options.cmake has both option lists. The page has no
# file system and brings its own store; the tests in Node.js and the desktop have files. The core is
# the same for both, so in a cross build the program that is linked chooses `sqlite_page` or `sqlite_files`.
include(${CMAKE_CURRENT_LIST_DIR}/sqlite_options.cmake)
function(steepbook_sqlite name)
  add_library(${name} STATIC ${STEEPBOOK_SQLITE_DIR}/sqlite3.c)
  target_include_directories(${name} SYSTEM PUBLIC ${STEEPBOOK_SQLITE_DIR})
  target_compile_definitions(${name} PUBLIC ${SQLITE_OPTIONS} PRIVATE ${ARGN} NDEBUG)
  target_compile_options(${name} PRIVATE -w)
  if(STEEPBOOK_SANITIZE)
    target_compile_options(${name} PRIVATE -fno-sanitize=object-size)  # Its page arrays end where their allocation does.
  endif()
endfunction()
if(EMSCRIPTEN)
  add_library(sqlite INTERFACE)
  target_include_directories(sqlite SYSTEM INTERFACE ${STEEPBOOK_SQLITE_DIR})
  target_compile_definitions(sqlite INTERFACE ${SQLITE_OPTIONS})
  steepbook_sqlite(sqlite_page ${SQLITE_PAGE_OPTIONS})
  steepbook_sqlite(sqlite_files)
else()
  steepbook_sqlite(sqlite)
  target_link_libraries(sqlite PUBLIC m)
  target_compile_options(sqlite PRIVATE -O2)
endif()

# zlib: only what gzip streams need.
add_library(zlib STATIC)
foreach(file adler32 compress crc32 deflate inffast inflate inftrees trees uncompr zutil)
  target_sources(zlib PRIVATE ${STEEPBOOK_ZLIB_DIR}/${file}.c)
endforeach()
target_include_directories(zlib SYSTEM PUBLIC ${STEEPBOOK_ZLIB_DIR})
target_compile_definitions(zlib PRIVATE NDEBUG)
target_compile_options(zlib PRIVATE -w)

# libsodium: only what locks a handover file, in portable C, so that the page and the desktop run the same code. What it
# asks of a system (random bytes, an end at misuse) is in sodium_host.c; its own build is not needed for that.
set(sodium_source ${STEEPBOOK_SODIUM_DIR}/src/libsodium)
add_library(sodium STATIC ${CMAKE_CURRENT_LIST_DIR}/sodium_host.c)
foreach(file
    crypto_secretstream/xchacha20poly1305/secretstream_xchacha20poly1305
    crypto_core/hchacha20/core_hchacha20 crypto_stream/chacha20/stream_chacha20 crypto_stream/chacha20/ref/chacha20_ref
    crypto_onetimeauth/poly1305/onetimeauth_poly1305 crypto_onetimeauth/poly1305/donna/poly1305_donna
    crypto_pwhash/argon2/pwhash_argon2id crypto_pwhash/argon2/argon2 crypto_pwhash/argon2/argon2-core
    crypto_pwhash/argon2/argon2-encoding crypto_pwhash/argon2/argon2-fill-block-ref crypto_pwhash/argon2/blake2b-long
    crypto_generichash/blake2b/ref/generichash_blake2b crypto_generichash/blake2b/ref/blake2b-ref
    crypto_generichash/blake2b/ref/blake2b-compress-ref crypto_verify/sodium/verify sodium/codecs sodium/utils
    crypto_aead/xchacha20poly1305/sodium/aead_xchacha20poly1305)  # for the published vectors of the tests; never linked else
  if(NOT EXISTS ${sodium_source}/${file}.c)
    string(REPLACE /sodium/ / file ${file})  # where they lie since 1.0.19
  endif()
  target_sources(sodium PRIVATE ${sodium_source}/${file}.c)
endforeach()
target_include_directories(sodium SYSTEM PUBLIC ${sodium_source}/include PRIVATE ${sodium_source}/include/sodium)
target_compile_definitions(sodium PUBLIC SODIUM_STATIC PRIVATE CONFIGURED=1 NDEBUG)
if(CMAKE_C_BYTE_ORDER STREQUAL LITTLE_ENDIAN)
  target_compile_definitions(sodium PRIVATE NATIVE_LITTLE_ENDIAN=1)
endif()
target_compile_options(sodium PRIVATE -w)
if(EMSCRIPTEN)  # Made small, one opening of a lock takes three times as long.
  set_source_files_properties(${sodium_source}/crypto_pwhash/argon2/argon2-fill-block-ref.c PROPERTIES COMPILE_OPTIONS -O2)
endif()

# Dear ImGui with our configuration; its item hooks feed the item tree of look/.
add_library(imgui STATIC
  ${STEEPBOOK_IMGUI_DIR}/imgui.cpp ${STEEPBOOK_IMGUI_DIR}/imgui_draw.cpp
  ${STEEPBOOK_IMGUI_DIR}/imgui_tables.cpp ${STEEPBOOK_IMGUI_DIR}/imgui_widgets.cpp)
target_include_directories(imgui SYSTEM PUBLIC ${STEEPBOOK_IMGUI_DIR})
target_include_directories(imgui PRIVATE ${CMAKE_SOURCE_DIR}/core)
target_compile_definitions(imgui PUBLIC IMGUI_USER_CONFIG="look/imgui_config.h")
target_compile_options(imgui PRIVATE -w -fno-exceptions -fno-rtti)
if(EMSCRIPTEN)
  target_compile_definitions(imgui PRIVATE NDEBUG)  # Their texts alone weigh 20 KB.
endif()
