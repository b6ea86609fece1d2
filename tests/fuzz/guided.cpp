// The way in for libFuzzer, one program a target:  steepbook_guided_TARGET CORPUS -runs=N
// 'steepbook_fuzz TARGET seeds FOLDER' writes the good inputs to begin with.
#include "fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return fuzz_targets().front().run(data, size);
}
