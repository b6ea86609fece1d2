#include "base/sha256_block.h"

#if defined(__x86_64__)
#include <cpuid.h>
#include <immintrin.h>

namespace steep {

bool has_sha256_instructions() {
  static const bool has = [] {
    unsigned a = 0, b = 0, c = 0, d = 0;
    if (!__get_cpuid(1, &a, &b, &c, &d) || !(c & bit_SSE4_1) || !(c & bit_SSSE3)) return false;
    return __get_cpuid_count(7, 0, &a, &b, &c, &d) != 0 && (b & bit_SHA) != 0;
  }();
  return has;
}

// The instructions work on the state as two registers, (a, b, e, f) and (c, d, g, h), and on four words of the
// message schedule at once: FIPS 180-4, 6.2.2, two rounds an instruction.
__attribute__((target("sha,sse4.1,ssse3"))) void sha256_block(std::uint32_t state[8], const std::uint8_t bytes[64],
                                                              const std::uint32_t constants[64]) {
  const auto load = [](const void* from) __attribute__((target("sse4.1"))) {
    return _mm_loadu_si128(static_cast<const __m128i*>(from));
  };
  const __m128i big_endian = _mm_set_epi64x(0x0c0d0e0f08090a0b, 0x0405060700010203);
  const __m128i badc = _mm_shuffle_epi32(load(state), 0xB1), hgfe = _mm_shuffle_epi32(load(state + 4), 0x1B);
  __m128i abef = _mm_alignr_epi8(badc, hgfe, 8), cdgh = _mm_blend_epi16(hgfe, badc, 0xF0);
  const __m128i abef_before = abef, cdgh_before = cdgh;
  __m128i w[4];
  for (int i = 0; i < 4; ++i) w[i] = _mm_shuffle_epi8(load(bytes + 16 * i), big_endian);
#pragma GCC unroll 16
  for (int i = 0; i < 16; ++i) {
    __m128i& now = w[i % 4];
    if (i >= 4) {
      const __m128i before = w[(i + 3) % 4];  // The four words just before these.
      now = _mm_add_epi32(_mm_sha256msg1_epu32(now, w[(i + 1) % 4]), _mm_alignr_epi8(before, w[(i + 2) % 4], 4));
      now = _mm_sha256msg2_epu32(now, before);
    }
    const __m128i sum = _mm_add_epi32(now, load(constants + 4 * i));
    cdgh = _mm_sha256rnds2_epu32(cdgh, abef, sum);
    abef = _mm_sha256rnds2_epu32(abef, cdgh, _mm_shuffle_epi32(sum, 0x0E));
  }
  abef = _mm_add_epi32(abef, abef_before);
  cdgh = _mm_add_epi32(cdgh, cdgh_before);
  const __m128i feba = _mm_shuffle_epi32(abef, 0x1B), dchg = _mm_shuffle_epi32(cdgh, 0xB1);
  _mm_storeu_si128(reinterpret_cast<__m128i*>(state), _mm_blend_epi16(feba, dchg, 0xF0));
  _mm_storeu_si128(reinterpret_cast<__m128i*>(state + 4), _mm_alignr_epi8(dchg, feba, 8));
}

}  // namespace steep

#else

namespace steep {

bool has_sha256_instructions() { return false; }
void sha256_block(std::uint32_t*, const std::uint8_t*, const std::uint32_t*) {}

}  // namespace steep

#endif
