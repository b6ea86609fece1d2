#include <doctest/doctest.h>

#include "base/id.h"

using namespace steep;

namespace {

/// Not random at all: the test owns what comes.
RandomSource bytes_from(std::uint8_t first) {
  return [first](std::span<std::uint8_t> bytes) {
    for (std::size_t i = 0; i < bytes.size(); ++i) bytes[i] = static_cast<std::uint8_t>(first + 37 * i);
  };
}

}  // namespace

TEST_CASE("id: text is 26 characters, sorted as the bytes are") {
  CHECK(Id{}.text() == "00000000000000000000000000");
  CHECK(Id{}.is_nil());
  Id all;
  all.bytes.fill(0xff);
  CHECK(all.text() == "7zzzzzzzzzzzzzzzzzzzzzzzzz");
  const Id early = make_record_id(Moment{1000}, bytes_from(200)), late = make_record_id(Moment{2000}, bytes_from(1));
  CHECK(early < late);
  CHECK(early.text() < late.text());
}

TEST_CASE("id: every byte comes back from the text") {
  for (int i = 0; i < 256; ++i) {
    const Id id = make_lane_id(bytes_from(static_cast<std::uint8_t>(i)));
    const auto back = Id::parse(id.text());
    CHECK(back.has_value());
    CHECK(back == id);
  }
}

TEST_CASE("id: a character stands for the same five bits at every place, and a wrong one is seen there") {
  const Id id = make_lane_id(bytes_from(77));
  for (std::size_t at = 0; at < 26; ++at) {
    std::string text = id.text();
    text[at] = text[at] == '5' ? '6' : '5';
    const auto other = Id::parse(text);
    REQUIRE(other.has_value());
    CHECK(other->text() == text);
    for (const char wrong : {'l', 'Z', ' ', '\x80', '\xff'}) {
      text[at] = wrong;
      CHECK_FALSE(Id::parse(text));
    }
  }
}

TEST_CASE("id: other texts are refused") {
  for (const std::string_view bad :
       {"", "0000000000000000000000000", "000000000000000000000000000", "80000000000000000000000000",
        "0000000000000000000000000i", "0000000000000000000000000l", "0000000000000000000000000o",
        "0000000000000000000000000u", "0000000000000000000000000A", "0000000000000000000000000 ",
        "0000000000000000000000000\xC3"}) {
    CHECK_FALSE(Id::parse(bad));
  }
}

TEST_CASE("id: a record id carries version, variant and time") {
  const Id id = make_record_id(Moment{0x0123456789AB}, bytes_from(0));
  CHECK(id.bytes[0] == 0x01);
  CHECK(id.bytes[5] == 0xAB);
  CHECK((id.bytes[6] & 0xf0) == 0x70);
  CHECK((id.bytes[8] & 0xc0) == 0x80);
}

TEST_CASE("id: the short code is the end of the text") {
  const Id lane = make_lane_id(bytes_from(9));
  CHECK(short_code(lane).size() == 3);
  CHECK(lane.text().ends_with(short_code(lane)));
  CHECK(short_code(*Id::parse("00000000000000000000000m4t")) == "m4t");
}

TEST_CASE("id: a short code never reads as a number") {
  CHECK(short_code(*Id::parse("00000000000000000000000537")) == "f37");
  CHECK(short_code(*Id::parse("00000000000000000000000000")) == "a00");
  CHECK(short_code(*Id::parse("00000000000000000000000987")) == "k87");
  CHECK(short_code(*Id::parse("0000000000000000000000053k")) == "53k");
}
