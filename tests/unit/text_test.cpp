#include <doctest/doctest.h>

#include "base/text.h"

using namespace steep;

TEST_CASE("text: trimming takes no-break and thin spaces too") {
  CHECK(trim("  a b \t\n") == "a b");
  CHECK(trim("\xC2\xA0 5\xE2\x80\xAF") == "5");
  CHECK(trim("") == "");
  CHECK(trim(" \xC2\xA0\xE2\x80\x89") == "");
  CHECK(trim("\xA0") == "\xA0");  // Half a character is not a space.
}

TEST_CASE("text: splitting keeps empty pieces, joining puts them back") {
  CHECK(split("a,,b", ',') == std::vector<std::string_view>{"a", "", "b"});
  CHECK(split("", ',') == std::vector<std::string_view>{""});
  CHECK(split(",", ',') == std::vector<std::string_view>{"", ""});
  CHECK(join({"a", "", "b"}, ", ") == "a, , b");
  CHECK(join({}, ",") == "");
}

TEST_CASE("text: lower case of both languages") {
  CHECK(lower("BED Ñ7 ÁÉÍÓÚÜ") == "bed ñ7 áéíóúü");
  CHECK(lower("ß × Ø") == "ß × ø");
  CHECK(lower("\xC3") == "\xC3");
}

TEST_CASE("text: a sentence begins with a capital in both languages") {
  CHECK(sentence_case("expires") == "Expires");
  CHECK(sentence_case("área") == "Área");
  CHECK(sentence_case("ñandú") == "Ñandú");
  CHECK(sentence_case("pH of the water") == "pH of the water");
  CHECK(sentence_case("2 beds") == "2 beds");
  CHECK(sentence_case("").empty());
}

TEST_CASE("text: UTF-8 is well formed or refused") {
  CHECK(is_utf8("plain, ñ, €, 😀"));
  CHECK(is_utf8(""));
  CHECK_FALSE(is_utf8(std::string_view("a\0b", 3)));
  for (const std::string_view bad :
       {"\x80", "\xC0\xAF", "\xC1\xBF", "\xE0\x80\xAF", "\xED\xA0\x80", "\xED\xBF\xBF", "\xF0\x80\x80\xAF",
        "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF", "\xC3", "\xE2\x82", "\xF0\x9F\x98", "\xC3(", "a\xE2\x28\xA1"}) {
    CHECK_FALSE(is_utf8(bad));
  }
  CHECK(is_utf8("\xED\x9F\xBF\xEE\x80\x80\xF4\x8F\xBF\xBF"));  // Both sides of the surrogates, and the last.
}

TEST_CASE("text: what is printed cannot turn the line around") {
  CHECK(printable("lot \xE2\x80\xAE"
                  "123\xE2\x81\xA9") == "lot 123");
  CHECK(printable("a\tb\nc\x07\x7F\xC2\x85") == "a b\nc");
  CHECK(printable("ok\xFFok") == "ok\xEF\xBF\xBDok");
  CHECK(is_utf8(printable("\xED\xA0\x80 \xF0\x9F")));
  CHECK(code_points("ñ€😀a") == 4);
}

TEST_CASE("text: whole numbers") {
  CHECK(parse_int("0") == 0);
  CHECK(parse_int("-12") == -12);
  CHECK(parse_int("9223372036854775807") == INT64_MAX);
  CHECK(parse_int("-9223372036854775808") == INT64_MIN);
  for (const std::string_view bad :
       {"", "-", "+1", " 1", "1 ", "1.0", "9223372036854775808", "-9223372036854775809", "0x1", "--1"}) {
    CHECK_FALSE(parse_int(bad));
  }
}

TEST_CASE("text: decimals round to the nearest double") {
  CHECK(parse_decimal("0.1") == 0.1);
  CHECK(parse_decimal("-1.25") == -1.25);
  CHECK(parse_decimal("3.785411784") == 3.785411784);
  CHECK(parse_decimal("9007199254740993") == 9007199254740992.0);  // A tie goes to even.
  CHECK(parse_decimal("9007199254740993.0000000001") == 9007199254740994.0);
  CHECK(parse_decimal("0.000000000000000000000000000001") == 1e-30);
  CHECK(parse_decimal("123456789012345678.123456789") == 123456789012345678.123456789);
  for (const std::string_view bad : {"", "-", ".", "1.", ".5", "1e3", "1,5", "1 000", "nan", "inf", "1.2.3", "+1"})
    CHECK_FALSE(parse_decimal(bad));
}

TEST_CASE("text: printing numbers, never a negative zero") {
  CHECK(decimal(1.5, 3) == "1.5");
  CHECK(decimal(100, 2) == "100");
  CHECK(decimal(0.125, 2) == "0.12");
  CHECK(decimal(-0.0001, 2) == "0");
  CHECK(decimal(1e15, 0) == "1000000000000000");
  CHECK(fixed(2, 2) == "2.00");
  CHECK(fixed(-0.001, 2) == "0.00");
  CHECK(fixed(-2.345678, 3) == "-2.346");
}
