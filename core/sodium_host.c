/* What libsodium asks of its surroundings, in the few functions of it that the program uses.
 *
 * Its random bytes would come from a system; ours come through Platform::random and are given to it (salt, start of the
 * stream). It must never make any by itself, so both end the program: a lock that is none would be worse. */
#include <stdlib.h>

void sodium_misuse(void);
void sodium_misuse(void) { abort(); }

void randombytes_buf(void *bytes, size_t size);
void randombytes_buf(void *bytes, size_t size) {
  (void)bytes;
  (void)size;
  abort();
}
