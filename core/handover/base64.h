#pragma once
/// Base 64 with padding. Source: RFC 4648, section 4.

#include <optional>
#include <string>
#include <string_view>

namespace steep {

std::string base64(std::string_view bytes);
/// Only the one spelling that base64() gives: nullopt for other letters, missing padding, bits left over.
std::optional<std::string> from_base64(std::string_view text);

}  // namespace steep
