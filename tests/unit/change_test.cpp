// One line of the journal: written, read back, and every rule of its grammar.
#include <doctest/doctest.h>

#include "book/change.h"

using namespace steep;

namespace {

Id id(std::uint8_t mark) {
  Id made;
  made.bytes = {1, 2, 3, mark};
  return made;
}

Change example() {
  Change c;
  c.lane = id(1);
  c.seq = 7;
  c.t = 1'778'796'340'123;
  c.wall = 1'778'796'340'123;
  c.zone_minutes = -240;
  c.person = id(2);
  c.record = id(3);
  c.kind = "dose";
  c.act = 6;
  c.act_ends = true;
  c.seen = {{id(1), 5, 0x9f3a01c2}, {id(4), 1, 0}};
  c.why = "measured";
  c.fields = {reference_value("what.load", id(5)),
              quantity_value("what.from", "0 ft"),
              quantity_value("what.to", "2 1/2 cup"),
              not_taken("what.volume"),
              word_value("what.how", "part"),
              instant_value("when.start", {{1'778'796'252'000}, -240}),
              text_field_value("note", "wind \"dropped\"\n\t\\ ñ 🌱 \x01"),
              number_value("plants", "-12.50"),
              yes_no_value("rinsed", true),
              date_value("date", {2026, 5, 14}),
              FieldValue{"paper", FieldType::ContentHash, std::string(64, 'a'), {}},
              FieldValue{"test.e_coli", FieldType::Censored, "<1", {}},
              list_value("people", {"one", "", "two"}),
              list_value("beds", {})};
  c.tips = {{id(9), 400, 0xffffffff}};
  return c;
}

std::string line_with(std::string_view from, std::string_view to) {
  std::string line = write_change(example());
  const auto at = line.find(from);
  REQUIRE(at != std::string::npos);
  return line.replace(at, from.size(), to);
}

bool reads(const std::string& line) { return read_change(line).has_value(); }

/// A line with one text field of this JSON.
bool reads_text(std::string_view json) {
  return reads(line_with("\"wind \\\"dropped\\\"\\n\\t\\\\ ñ 🌱 \\u0001\"", json));
}

}  // namespace

TEST_CASE("a line reads back as it was written, byte for byte") {
  const Change change = example();
  const std::string line = write_change(change);
  const auto back = read_change(line);
  REQUIRE(back);
  CHECK(write_change(*back) == line);
  CHECK(back->fields == change.fields);
  CHECK(back->seen == change.seen);
  CHECK(back->tips == change.tips);
  CHECK(back->why == "measured");
  CHECK(back->act_ends);
  CHECK_FALSE(back->must);
  CHECK_FALSE(back->unknown_keys);

  Change first = example();
  first.seq = first.act = 1;
  first.seen.clear();
  first.part = Part{id(8), 2026};
  first.must = true;
  const auto second = read_change(write_change(first));
  REQUIRE(second);
  CHECK(second->part == first.part);
  CHECK(second->must);
}

TEST_CASE("the beginning of a line is as the format says") {
  CHECK(write_change(example()).starts_with("{\"v\":1,\"l\":\"" + id(1).text() +
                                            "\",\"n\":7,\"t\":1778796340123,\"c\":0,\"w\":"));
}

TEST_CASE("references as text and back") {
  const ChangeRef ref{id(1), 812, 0x0f3a01c2};
  CHECK(ref.text() == id(1).text() + ".812.0f3a01c2");
  CHECK(ChangeRef::parse(ref.text()) == ref);
  const std::string lane = id(1).text();
  for (const std::string bad :
       {"", "x", ".812.0f3a01c2x", "812.0f3a01c2", ".0.0f3a01c2", ".01.0f3a01c2", ".812.0f3a01c", ".812.0F3A01C2",
        ".812.0f3a01c2 ", ".-1.0f3a01c2", ".99999999999999999.0f3a01c2", ".9007199254740993.0f3a01c2"})
    CHECK_MESSAGE(!ChangeRef::parse(lane + bad), bad);
}

TEST_CASE("types and their grammars") {
  const auto fits = [](char type, std::string_view text) { return fits_type(static_cast<FieldType>(type), text); };
  for (const char* good : {"0", "-1", "123456789012345", "1.5", "0.000000001"}) CHECK_MESSAGE(fits('n', good), good);
  for (const char* bad :
       {"", "-", "1.", ".5", "+1", "1e5", "1234567890123456", "1.0000000001", "1 ", "0x1", "1,5", "nan"})
    CHECK_MESSAGE(!fits('n', bad), bad);
  for (const char* good :
       {"22 kg", "2 1/2 cup", "1/2 cup", "-4 degC", "1.50 gal", "1 imperial gal", "15 gal/acre", "3 zorkmid"})
    CHECK_MESSAGE(fits('q', good), good);
  for (const char* bad : {"", "22", "22kg", "22  kg", " 22 kg", "22 kg ", "1. gal", "2 1/ cup", "1/2/3 cup", "2 1 cup",
                          "kg", "1e3 kg", "1,5 gal", "--1 kg", "1 g\n", "1234567890123456789012345678901234567890 kg"})
    CHECK_MESSAGE(!fits('q', bad), bad);
  CHECK(fits('w', "per-area"));
  CHECK_FALSE(fits('w', "Per area"));
  CHECK_FALSE(fits('w', ""));
  CHECK(fits('b', "no"));
  CHECK_FALSE(fits('b', "true"));
  CHECK(fits('d', "2024-02-29"));
  CHECK_FALSE(fits('d', "2026-02-29"));
  CHECK(fits('i', "2026-05-14T18:04:12-04:00"));
  CHECK_FALSE(fits('i', "2026-05-14T18:04:12"));
  CHECK(fits('c', "<1"));
  CHECK(fits('c', ">2420"));
  CHECK(fits('c', "7"));
  CHECK_FALSE(fits('c', "<"));
  CHECK_FALSE(fits('c', "<<1"));
  CHECK(fits('x', ""));
  CHECK_FALSE(fits('x', "0"));
  CHECK_FALSE(fits('h', std::string(64, 'A')));
  CHECK_FALSE(fits('t', std::string("a\0b", 3)));
  CHECK(fits('t', "../../x =cmd()"));  // Just text.
  CHECK(fits('g', "anything"));        // A letter of a newer version.
  CHECK_FALSE(fits_item(std::string(201, 'x')));
  CHECK_FALSE(
      fits_item("a\x1F"
                "b"));
}

TEST_CASE("shape: key order, keys missing or twice, white space, what follows the end") {
  CHECK(reads(write_change(example())));
  CHECK_FALSE(reads(""));
  CHECK_FALSE(reads("{}"));
  CHECK_FALSE(reads("null"));
  CHECK_FALSE(reads(write_change(example()) + "\n"));
  CHECK_FALSE(reads(" " + write_change(example())));
  CHECK_FALSE(reads("\xEF\xBB\xBF" + write_change(example())));
  CHECK_FALSE(reads(line_with("\"v\":1,", "\"v\": 1,")));
  CHECK_FALSE(reads(line_with("\"v\":1,", "")));
  CHECK_FALSE(reads(line_with("\"v\":1,", "\"v\":1,\"v\":1,")));
  CHECK_FALSE(reads(line_with("\"c\":0,", "")));
  CHECK_FALSE(reads(line_with("\"c\":0,\"w\":1778796340123,", "\"w\":1778796340123,\"c\":0,")));
  CHECK_FALSE(reads(line_with("\"e\":1", "\"e\":0")));
  CHECK_FALSE(reads(line_with("\"e\":1", "\"e\":true")));
  const auto newer = read_change(line_with("\"v\":1", "\"v\":2"));
  REQUIRE_FALSE(newer);
  CHECK(newer.error().kind == Trouble::Unsupported);
}

TEST_CASE("whole numbers: no sign but in z, no exponent, no leading zero, at most 2^53") {
  for (const char* bad : {"-1", "01", "1.0", "1e3", "+1", "9007199254740993", "99999999999999999999999", "\"1\"", ""})
    CHECK_MESSAGE(!reads(line_with("\"c\":0", std::string("\"c\":") + bad)), bad);
  CHECK(reads(line_with("\"c\":0", "\"c\":9007199254740992")));
  CHECK_FALSE(reads(line_with("\"w\":1778796340123", "\"w\":140737488355328")));  // 2^47
  CHECK(reads(line_with("\"w\":1778796340123", "\"w\":140737488355327")));
  CHECK_FALSE(reads(line_with("\"z\":-240", "\"z\":-1441")));
  CHECK_FALSE(reads(line_with("\"z\":-240", "\"z\":-0")));
  CHECK_FALSE(reads(line_with("\"c\":0", "\"c\":1" + std::string(400, '0'))));  // 10^400
}

TEST_CASE("what no single key shows: act, part, own later lines") {
  CHECK_FALSE(reads(line_with("\"a\":6", "\"a\":8")));
  CHECK_FALSE(reads(line_with("\"a\":6", "\"a\":0")));
  CHECK_FALSE(reads(line_with("\"n\":7", "\"n\":20006")));  // An act of more than 10,000 lines.
  CHECK_FALSE(reads(line_with("\"n\":7,", "\"n\":7,\"p\":\"house/base\",")));
  CHECK_FALSE(reads(line_with("\"n\":7", "\"n\":1")));
  CHECK_FALSE(reads(line_with(id(1).text() + ".5.", id(1).text() + ".7.")));
  CHECK_FALSE(reads(line_with(id(1).text() + ".5.", id(1).text() + ".9.")));
  CHECK_FALSE(reads(line_with(id(3).text(), Id{}.text())));  // A record has an id.
  CHECK_FALSE(reads(line_with("\"dose\"", "\"Dose\"")));
  CHECK_FALSE(reads(line_with("\"what.load\"", "\"what.load.more\"")));
  CHECK_FALSE(reads(line_with("\"what.load\"", "\"what.from\"")));  // A field twice.
  CHECK_FALSE(reads(line_with("\"what.volume\",\"x\",\"\"", "\"what.volume\",\"x\",\"0\"")));
  CHECK_FALSE(reads(line_with("\"what.volume\",\"x\",\"\"", "\"what.volume\",\"x\",[]")));
  CHECK_FALSE(reads(line_with("\"what.volume\",\"x\",\"\"", "\"what.volume\",\"X\",\"\"")));
}

TEST_CASE("text: escapes, surrogates, overlong forms, controls") {
  CHECK(reads_text("\"plain\""));
  CHECK(reads_text("\"\\u00f1\\/\\b\\f\""));
  CHECK(reads_text("\"\\ud83c\\udf31\""));
  const auto pair = read_change(line_with("\"measured\"", "\"\\ud83c\\udf31\""));
  REQUIRE(pair);
  CHECK(pair->why == "🌱");
  for (const char* bad : {"\"\\ud83c\"",
                          "\"\\udf31\"",
                          "\"\\ud83c\\u0041\"",
                          "\"\\ud83cx\"",
                          "\"\\u0000\"",
                          "\"\\u12\"",
                          "\"\\x41\"",
                          "\"\\'\"",
                          "\"\\",
                          "\"open",
                          "\"a\tb\"",
                          "\"\xC0\xAF\"",
                          "\"\xED\xA0\x80\"",
                          "\"\xF4\x90\x80\x80\"",
                          "\"\xFF\"",
                          "\"\xE2\x82\"",
                          "'single'",
                          "7",
                          "null",
                          "[\"a\"]"})
    CHECK_MESSAGE(!reads_text(bad), bad);
  CHECK_FALSE(reads_text(std::string("\"a\0b\"", 5)));
}

TEST_CASE("text: what is not plain is seen at every place of texts of every length") {
  for (std::size_t length = 1; length < 26; ++length)
    for (std::size_t at = 0; at < length; ++at) {
      std::string text(length, '~');
      for (const char control : {'\x01', '\x1f', '"', '\\'}) {
        text[at] = control;
        CHECK_FALSE(reads_text('"' + text + '"'));
        Change change = example();
        change.why = text;
        const auto back = read_change(write_change(change));
        REQUIRE(back);
        CHECK(back->why == text);
      }
      for (const char plain : {' ', '!', '#', '[', ']', '\x7f'}) {
        text[at] = plain;
        CHECK(reads_text('"' + text + '"'));
      }
      for (const char byte : {'\x80', '\xa2', '\xdc', '\xff'}) {  // Also of a quote and an escape with the top bit.
        text[at] = byte;
        CHECK_FALSE(reads_text('"' + text + '"'));
      }
    }
}

TEST_CASE("keys of a newer version are skipped: texts, whole numbers, flat arrays, and nothing deeper") {
  const auto with = [](const std::string& more) {
    std::string line = write_change(example());
    line.insert(line.size() - 1, more);
    return read_change(line);
  };
  REQUIRE(with(",\"q\":\"x\",\"r2\":-5,\"s2\":[],\"t2\":[\"a\",1,\"b\"]"));
  CHECK(with(",\"q\":1")->unknown_keys);
  CHECK(with(",\"q\":1")->fields == example().fields);
  CHECK(reads(line_with("\"c\":0,", "\"c\":0,\"new\":1,")));
  for (const char* bad : {",\"q\":{}", ",\"q\":[[1]]", ",\"q\":null", ",\"q\":true", ",\"q\":1.5", ",\"q\":1,\"q\":2",
                          ",\"q\"", ",", ",\"q\":[1,]", ",\"q\":[,1]"})
    CHECK_MESSAGE(!with(bad), bad);
  CHECK_FALSE(with(",\"q\":" + std::string(50'000, '[')));
  std::string many;
  for (int i = 0; i < 65; ++i) many += ",\"k" + std::to_string(i) + "\":1";
  CHECK_FALSE(with(many));
}

TEST_CASE("limits") {
  Change c = example();
  const auto fits = [&] { return read_change(write_change(c)).has_value(); };
  c.why = std::string(kMaxWhy, 'w');
  CHECK(fits());
  c.why += 'w';
  CHECK_FALSE(fits());
  c = example();
  c.fields = {text_field_value("note", std::string(kMaxValue, 'v'))};
  CHECK(fits());
  c.fields[0].text += 'v';
  CHECK_FALSE(fits());
  c.fields.clear();
  for (std::size_t i = 0; i < kMaxFields; ++i) c.fields.push_back(text_field_value("f" + std::to_string(i), ""));
  CHECK(fits());
  c.fields.push_back(text_field_value("one_more", ""));
  CHECK_FALSE(fits());
  c.fields = {list_value("beds", std::vector<std::string>(kMaxItems, "b"))};
  CHECK(fits());
  c.fields[0].items.push_back("b");
  CHECK_FALSE(fits());
  c.fields = {list_value("beds", {std::string(kMaxItem, 'b')})};
  CHECK(fits());
  c.fields[0].items[0] += 'b';
  CHECK_FALSE(fits());
  c = example();
  c.seen.assign(kMaxSeen, {id(4), 1, 0});
  CHECK(fits());
  c.seen.push_back({id(4), 1, 0});
  CHECK_FALSE(fits());
  c = example();
  c.fields = {quantity_value("what.to", "1." + std::string(35, '0') + " kg")};
  CHECK(fits());
  c.fields[0].text.insert(2, "0");
  CHECK_FALSE(fits());
  c = example();
  c.kind = std::string(kMaxName, 'k');
  CHECK(fits());
  c.kind += 'k';
  CHECK_FALSE(fits());
  c = example();
  c.fields = {text_field_value("a", std::string(kMaxValue, 'v')), text_field_value("b", std::string(kMaxValue, 'v'))};
  const auto long_line = read_change(write_change(c));  // More than 64 KiB.
  REQUIRE_FALSE(long_line);
  CHECK(long_line.error().word.key == "journal.line.limit");
}

TEST_CASE("cut anywhere, a line is refused; a byte changed, it is refused or reads as another line") {
  const std::string line = write_change(example());
  for (std::size_t i = 0; i < line.size(); ++i) {
    CHECK_FALSE(reads(line.substr(0, i)));
    for (const int flip : {0x01, 0x20, 0x80}) {
      std::string changed = line;
      changed[i] = static_cast<char>(changed[i] ^ flip);
      const auto back = read_change(changed);
      if (back && !back->unknown_keys) CHECK(read_change(write_change(*back))->fields == back->fields);
    }
  }
}

TEST_CASE("the chain: SHA-256 over the hash before and the line's bytes, from 'steepbook/1' and the lane") {
  // FIPS 180-4 by base/sha256; here only how the sums are put together.
  const Hash start = chain_start(id(1));
  CHECK(start == sha256("steepbook/1" + id(1).text()));
  const std::string line = write_change(example());
  CHECK(chain_next(start, line) == sha256(std::string(start.begin(), start.end()) + line));
  CHECK(ref_of(id(1), 3, start).tag == tag_of(start));
  CHECK(ref_of(id(1), 3, start).text().ends_with(hex(start).substr(0, 8)));
}
