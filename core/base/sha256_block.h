#pragma once
/// SHA-256 of a block by the processor's own instructions, where it has them.

#include <cstdint>

namespace steep {

/// Does this processor have them? Asked once, answered for ever.
bool has_sha256_instructions();
/// Adds a block to the state. Only where has_sha256_instructions().
void sha256_block(std::uint32_t state[8], const std::uint8_t bytes[64], const std::uint32_t constants[64]);

}  // namespace steep
