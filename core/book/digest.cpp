#include "book/digest.h"

namespace steep {

Hash digest_term(const Part& part, const Id& record, std::string_view group, const Hash& head, bool wins) {
  Sha256 sum;
  sum.add(part.text());
  sum.add(std::string_view("\n"));
  sum.add(std::span<const std::uint8_t>(record.bytes));
  sum.add(group);
  sum.add(std::string_view("\n"));
  sum.add(std::span<const std::uint8_t>(head));
  sum.add(std::string_view(wins ? "1" : "0"));
  return sum.finish();
}

void digest_add(Hash& sum, const Hash& term) {
  unsigned carry = 0;
  for (std::size_t i = sum.size(); i-- > 0;) {
    const unsigned value = sum[i] + term[i] + carry;
    sum[i] = static_cast<std::uint8_t>(value);
    carry = value >> 8;
  }
}

void digest_subtract(Hash& sum, const Hash& term) {
  int borrow = 0;
  for (std::size_t i = sum.size(); i-- > 0;) {
    const int value = sum[i] - term[i] - borrow;
    sum[i] = static_cast<std::uint8_t>(value);
    borrow = value < 0 ? 1 : 0;
  }
}

std::string digest_code(const Hash& sum) {
  const std::string digits = hex(sum);
  return digits.substr(0, 4) + ' ' + digits.substr(4, 4) + ' ' + digits.substr(8, 4);
}

}  // namespace steep
