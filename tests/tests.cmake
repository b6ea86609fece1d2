# Test programs, one a folder. tests/run builds and runs them all, in words; ctest works too.
#
#   steepbook_unit        tests/unit/*_test.cpp        natively, under sanitizers, and as WebAssembly; natively also tests/native
#   steepbook_published   tests/published/*_test.cpp   figures against the outside world
#   steepbook_screens     tests/screens/*_test.cpp     the real screens without a window
#   steepbook_pictures    tests/screens/pictures       draws every screen from the demo farm into PNG files
#   steepbook_same        tests/same/*.cpp             answers with all digits, natively and as WebAssembly
#   steepbook_fuzz        tests/fuzz/*.cpp             readers of outside data, and merging, against damaged input
#   steepbook_guided_*    the same targets under libFuzzer (clang, STEEPBOOK_GUIDED=ON)
#   steepbook_bench       tests/bench/*.cpp            figures and ratios, never pass or fail
#   steepbook_bench_merge tests/bench/merge/*.cpp      figures of merging
enable_testing()

function(steepbook_test_program name folder)
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/tests/${folder}/*.cpp)
  file(GLOB shared CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/tests/*.cpp)
  add_executable(${name} ${sources} ${shared})
  target_include_directories(${name} PRIVATE ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/tests)
  target_compile_options(${name} PRIVATE ${STEEPBOOK_WARNINGS} -fno-rtti)
  target_compile_definitions(${name} PRIVATE STEEPBOOK_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  target_link_libraries(${name} PRIVATE ${ARGN})
endfunction()

# The published vectors of Argon2id have lanes and a secret, which only its inner headers reach.
function(steepbook_sees_sodium name)
  target_include_directories(${name} SYSTEM PRIVATE ${STEEPBOOK_SODIUM_DIR}/src/libsodium)
endfunction()

if(EMSCRIPTEN)
  steepbook_test_program(steepbook_unit_wasm unit paper look sqlite_files zlib sodium page_store)
  steepbook_sees_sodium(steepbook_unit_wasm)
  # Without exceptions a failed REQUIRE can't leave its test case: it is reported and the case goes on.
  target_compile_options(steepbook_unit_wasm PRIVATE -fno-exceptions)
  target_compile_definitions(steepbook_unit_wasm PRIVATE DOCTEST_CONFIG_NO_EXCEPTIONS_BUT_WITH_ALL_ASSERTS)
  target_link_options(steepbook_unit_wasm PRIVATE -fno-exceptions -sENVIRONMENT=node -sWASM_ASYNC_COMPILATION=0
    -sSINGLE_FILE=1 -sALLOW_MEMORY_GROWTH=1 -sTOTAL_STACK=1MB -sASSERTIONS=1 -sNODERAWFS=1 -sEXIT_RUNTIME=1)
  add_test(NAME unit-wasm COMMAND node $<TARGET_FILE:steepbook_unit_wasm>)
  # Figures of merging for Node.js, beside other libraries there.
  steepbook_test_program(steepbook_bench_merge_wasm bench/merge handover sqlite_files zlib)
  target_compile_options(steepbook_bench_merge_wasm PRIVATE -fno-exceptions)
  target_link_options(steepbook_bench_merge_wasm PRIVATE -fno-exceptions -sENVIRONMENT=node -sWASM_ASYNC_COMPILATION=0
    -sSINGLE_FILE=1 -sALLOW_MEMORY_GROWTH=1 -sTOTAL_STACK=1MB -sNODERAWFS=1 -sEXIT_RUNTIME=1)
  steepbook_test_program(steepbook_same_wasm same trade)
  target_compile_options(steepbook_same_wasm PRIVATE -fno-exceptions)
  target_link_options(steepbook_same_wasm PRIVATE -fno-exceptions -sENVIRONMENT=node -sWASM_ASYNC_COMPILATION=0
    -sSINGLE_FILE=1 -sALLOW_MEMORY_GROWTH=1 -sNODERAWFS=1 -sEXIT_RUNTIME=1)
else()
  steepbook_test_program(steepbook_unit unit paper look sqlite zlib sodium page_store)
  steepbook_sees_sodium(steepbook_unit)
  target_sources(steepbook_unit PRIVATE tests/native/folder_watch_test.cpp tests/native/photo_decode_test.cpp
    tests/native/snapshot_test.cpp tests/native/written_in_place_test.cpp native/disk.cpp native/folder_watch.cpp)
  target_link_libraries(steepbook_unit PRIVATE photo_decode)
  steepbook_test_program(steepbook_published published trade)
  steepbook_test_program(steepbook_screens screens app)
  steepbook_test_program(steepbook_pictures screens/pictures app)
  target_sources(steepbook_pictures PRIVATE tests/screens/harness.cpp tests/screens/raster.cpp)
  steepbook_test_program(steepbook_fuzz fuzz handover)
  get_target_property(fuzz_sources steepbook_fuzz SOURCES)
  list(FILTER fuzz_sources EXCLUDE REGEX "guided.cpp$")
  set_target_properties(steepbook_fuzz PROPERTIES SOURCES "${fuzz_sources}")
  # By coverage: a clang build of its own (STEEPBOOK_GUIDED), one program for each target.
  if(STEEPBOOK_GUIDED)
    foreach(name change_line handover_file locked_file merge)
      add_executable(steepbook_guided_${name} tests/fuzz/${name}_fuzz.cpp tests/fuzz/guided.cpp)
      target_include_directories(steepbook_guided_${name} PRIVATE ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/tests)
      target_compile_options(steepbook_guided_${name} PRIVATE -fno-rtti)
      target_link_libraries(steepbook_guided_${name} PRIVATE handover)
      target_link_options(steepbook_guided_${name} PRIVATE -fsanitize=fuzzer)
    endforeach()
    add_custom_target(steepbook_guided DEPENDS steepbook_guided_change_line steepbook_guided_handover_file
      steepbook_guided_locked_file steepbook_guided_merge)
  endif()
  steepbook_test_program(steepbook_bench bench app)
  steepbook_test_program(steepbook_same same trade)
  steepbook_test_program(steepbook_bench_merge bench/merge handover sqlite)
  foreach(suite unit published screens)
    add_test(NAME ${suite} COMMAND steepbook_${suite} WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
  endforeach()
endif()
