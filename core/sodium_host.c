/* What libsodium asks of its surroundings, in the few functions of it that the program uses.
 *
 * A lock's own random bytes (salt, start of the stream) come through Platform::random and are given to it. Newer versions
 * also fill a result with random bytes before they compute it, so that nobody takes one that failed for a key; these
 * come from getentropy (POSIX.1-2024; on the page it is the browser's). Where there are none the program ends: a lock
 * that is none would be worse. */
#include <stdlib.h>
#include <unistd.h>

void sodium_misuse(void);
void sodium_misuse(void) { abort(); }

void randombytes_buf(void *bytes, size_t size);
void randombytes_buf(void *bytes, size_t size) {
  enum { kMost = 256 }; /* in one call */
  unsigned char *at = bytes;
  while (size > 0) {
    const size_t part = size < kMost ? size : kMost;
    if (getentropy(at, part) != 0) abort();
    at += part;
    size -= part;
  }
}
