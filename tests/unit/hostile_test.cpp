// Hostile and broken input: every limit, at the limit and one beyond, each through the whole way of a file.
// The grammar of single lines stands in change_test.cpp.
#include <unordered_map>

#include "base/text.h"
#include "book/spelled.h"
#include "book/tables.h"
#include "handover/flat_object.h"
#include "look/item_tree.h"
#include "paper/csv.h"
#include "paper/html.h"
#include "tests/unit/hand_file.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

/// A book that files are thrown at, and a record in it.
struct Target {
  Copy office{"Office", 2};
  Id rig;
  Target() {
    REQUIRE(office.book->start("Alder Reach", false));
    rig = add(*office.book, "rig", {text_field_value("name", "Backpack")});
  }
  Book& book() { return *office.book; }
  /// "(taken)", or the sentence's word; refused files leave every stored byte as it was.
  std::string take(std::string bytes) {
    const Hash before = stored(office);
    const auto taken = take_in(book(), {"x.steepbook", std::move(bytes), ""});
    if (taken) return "(taken)";
    CHECK(stored(office) == before);
    return std::string(taken.error().word.key);
  }
  std::string take(const HandFile& file) { return take(file.text()); }
  /// A file with this one line, spoiled or not, its sums all right.
  std::string take_line(std::string line) {
    HandFile file(book().id());
    HandLane lane(next_++);
    lane.add(std::move(line));
    file.lanes = {lane};
    return take(file);
  }
  Change change(std::vector<FieldValue> fields) {
    return HandLane(next_).next(book().new_record(), "rig", std::move(fields));
  }
  std::string take_change(const Change& change) { return take_line(write_change(change)); }

 private:
  std::uint8_t next_ = 10;
};

}  // namespace

TEST_CASE("limits of a line, in a file: at the limit taken, one beyond refused") {
  Target target;
  const auto both = [&](auto set) {  // set(change, extra): extra = 0 at the limit, 1 beyond
    for (const std::size_t extra : {0, 1}) {
      Change change = target.change({text_field_value("name", "x")});
      set(change, extra);
      const std::string answer = target.take_change(change);
      CHECK(answer == (extra == 0 ? "(taken)" : "take.damaged"));
    }
  };
  both([](Change& c, std::size_t extra) { c.why = std::string(2 * 1024 + extra, 'w'); });
  both(
      [](Change& c, std::size_t extra) { c.fields = {text_field_value("note", std::string(32 * 1024 + extra, 'v'))}; });
  both([](Change& c, std::size_t extra) {
    c.fields.clear();
    for (std::size_t i = 0; i < 256 + extra; ++i) c.fields.push_back(text_field_value("f" + std::to_string(i), ""));
  });
  both([](Change& c, std::size_t extra) {
    c.fields = {list_value("settled", std::vector<std::string>(1000 + extra, "b"))};
  });
  both([](Change& c, std::size_t extra) { c.fields = {list_value("settled", {std::string(200 + extra, 'b')})}; });
  both([](Change& c, std::size_t extra) { c.seen.assign(1000 + extra, ChangeRef{HandLane(200).id, 1, 7}); });
  both([](Change& c, std::size_t extra) { c.tips.assign(1000 + extra, ChangeRef{HandLane(200).id, 1, 7}); });
  both([](Change& c, std::size_t extra) { c.kind = std::string(64 + extra, 'k'); });
  // A quantity: 40 bytes of number, blank and unit. Beyond, it is no value of its type.
  for (const int digits : {35, 36}) {
    Change change = target.change(
        {quantity_value("tank.volume", "1." + std::string(static_cast<std::size_t>(digits), '0') + " kg")});
    CHECK(target.take_change(change) == (digits == 35 ? "(taken)" : "take.damaged"));
  }
  // An act: 10,000 lines. The number of its first line says how long it is.
  for (const std::int64_t extra : {0, 1}) {
    Change change = target.change({text_field_value("name", "x")});
    change.seq = 10'000 + extra;
    change.act = 1;
    change.part.reset();
    CHECK(read_change(write_change(change)).has_value() == (extra == 0));
  }
}

TEST_CASE("limits of a file: line, lines, sections, unpacked bytes, ratio, one gzip member") {
  Target target;
  HandFile file(target.book().id());
  // 64 KiB of a line, exactly and one more, in the frame and among the changes.
  const std::string head = "{\"later\":\"", tail = "\"}";
  for (const std::size_t extra : {0, 1}) {
    file.header.minor = kFormatMinor + 1;
    file.more = {head + std::string(kMaxLine - head.size() - tail.size() + extra, 'x') + tail};
    CHECK(target.take(file) == (extra == 0 ? "(taken)" : "take.too_large"));
    CHECK(target.take(packed(file.text())) == (extra == 0 ? "(taken)" : "take.too_large"));
  }
  // 10,000 sections may be said, no more; and not one more than were said.
  const auto header_with = [&](std::string_view key, std::int64_t value) {
    HandFile other(target.book().id());
    const std::string line = write_header(other.header), wanted = "\"" + std::string(key) + "\":0";
    other.header_line = line;
    other.header_line.replace(line.find(wanted), wanted.size(),
                              "\"" + std::string(key) + "\":" + std::to_string(value));
    return target.take(other);
  };
  CHECK(header_with("lanes", kMaxLanes + 1) == "take.too_large");
  CHECK(header_with("changes", kMaxLines + 1) == "take.too_large");
  CHECK(header_with("lanes", 1) == "take.damaged");
  CHECK(header_with("changes", 1) == "take.damaged");
  CHECK(header_with("bytes", 1) == "take.damaged");

  // The same limits, set low, are counted on what really comes out.
  CHECK(FileLimits{}.unpacked == std::int64_t{2} << 30);
  CHECK(FileLimits{}.ratio == 200);
  CHECK(FileLimits{}.lines == 10'000'000);
  std::string lines = write_header(file.header) + '\n';
  while (lines.size() < 3 << 20) lines += "{\"later\":\"" + hex(sha256(std::to_string(lines.size()))) + "\"}\n";
  const auto read_with = [](std::string_view bytes, FileLimits limits) {
    auto source = LineSource::open(bytes, limits);
    REQUIRE(source);
    for (;;) {
      const auto line = source->next();
      if (!line) return std::string(line.error().word.key);
      if (!*line) return std::string("(read)");
    }
  };
  const std::string zipped = packed(lines);
  for (const std::string& bytes : {lines, zipped}) {
    CHECK(read_with(bytes, {}) == "(read)");
    FileLimits few;
    few.unpacked = static_cast<std::int64_t>(lines.size()) - 1;
    CHECK(read_with(bytes, few) == "take.too_large");
    few = {};
    few.lines = 1000;
    CHECK(read_with(bytes, few) == "take.too_large");
  }
  FileLimits tight;
  tight.ratio = 1;
  CHECK(read_with(zipped, tight) == "take.too_large");
  CHECK(read_with(lines, tight) == "(read)");

  const std::string one = packed(HandFile(target.book().id()).text());
  CHECK(target.take(one + one) == "take.damaged");  // Two members.
  CHECK(target.take(one + std::string(1, '\0')) == "take.damaged");
  CHECK(target.take(packed(one)) == "take.foreign");  // Packed twice.
}

TEST_CASE("text in a file: duplicate keys, unknown escapes, lone surrogates, NUL, bad UTF-8, a BOM: refused") {
  Target target;
  const std::string good = write_change(target.change({text_field_value("name", "MARK")}));
  const auto with = [&](std::string_view mark, std::string_view instead) {
    std::string line = good;
    line.replace(line.find(mark), mark.size(), instead);
    return line;
  };
  for (const std::string_view text :
       {"\\ud83c", "\\udf31", "\\u0000", "\\x41", "\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xFF", "a\tb"})
    CHECK(target.take_line(with("MARK", text)) != "(taken)");
  CHECK(target.take_line(with("MARK", std::string_view("a\0b", 3))) != "(taken)");
  CHECK(target.take_line(with("\"c\":0,", "\"c\":0,\"c\":0,")) != "(taken)");
  CHECK(target.take_line(with("{\"v\"", "\xEF\xBB\xBF{\"v\"")) != "(taken)");
  const std::string whole = HandFile(target.book().id()).text();
  CHECK(target.take("\xEF\xBB\xBF" + whole) == "take.foreign");
  HandFile framed(target.book().id());
  for (const std::string_view name :
       {R"("name":"","name":"")", R"("name":"\ud800")", R"("name":"\q")", "\"name\":\"\xC0\xAF\"", R"("name":{})",
        R"("name":"","deep":[[1]])", R"("name":"","n":1e9)", R"("name":"","n":01)"}) {
    framed.header_line = write_header(framed.header);
    framed.header_line.replace(framed.header_line.find("\"name\":\"\""), 9, name);
    CHECK(target.take(framed) != "(taken)");
  }
}

TEST_CASE("references: to oneself, forward in one's own lane, in a ring: refused, or never counted") {
  Target target;
  for (const std::int64_t forward : {0, 1}) {
    Change change = target.change({text_field_value("name", "x")});
    change.seen = {ChangeRef{change.lane, 1 + forward, 7}};
    CHECK(target.take_change(change) == "take.damaged");
  }
  // Two lanes whose lines claim to have seen each other: one tag has to be guessed. Dead weight, never a value.
  const Id one = target.book().new_record();
  HandLane a(3), b(4);
  a.save(one, "rig", {text_field_value("name", "a")}, {ChangeRef{b.id, 1, 0x12345678}});
  b.save(one, "rig", {text_field_value("name", "b")}, {a.tip()});
  HandFile file(target.book().id());
  file.lanes = {a, b};
  CHECK(target.take(file) == "(taken)");
  CHECK(target.book().kind_of(one).empty());
  CHECK(target.book().waiting()->size() == 2);
  // What another record's change is said to have been seen replaces nothing.
  HandLane c(5);
  c.save(target.book().new_record(), "rig", {text_field_value("name", "c")},
         got(target.book().record(target.rig))->heads());
  file.lanes = {c};
  CHECK(target.take(file) == "(taken)");
  CHECK(text_of(target.book(), target.rig, "name") == "Backpack");
}

TEST_CASE("a forged tag: a reference that matches two lines counts as seeing both, on every copy alike") {
  Target target;
  // 32 bits of a hash: two lines of one number with one tag are found among some 100,000 (birthdays).
  HandLane left(6), right(6);
  std::unordered_map<std::uint32_t, std::string> tags;
  const Id one = target.book().new_record();
  Change change = left.next(one, "rig", {text_field_value("name", "x")});
  for (int i = 0; left.bodies.empty(); ++i) {
    change.fields[0].text = "Rig " + std::to_string(i);
    const std::string body = write_change(change);
    const auto [place, fresh] = tags.try_emplace(tag_of(chain_next(chain_start(left.id), body)), body);
    if (fresh) continue;
    left.add(place->second);
    right.add(body);
  }
  REQUIRE(left.tip() == right.tip());
  HandLane third(7);
  third.save(one, "rig", {text_field_value("name", "settled")}, {left.tip()});
  Copy other("Ana's phone", 3);
  hand(target.office, other);
  for (const auto& order : {std::vector<HandLane>{left, right, third}, std::vector<HandLane>{third, right, left}}) {
    Copy& copy = &order[0] == &order.front() && order[0].id == left.id ? target.office : other;
    for (const HandLane& lane : order) {
      HandFile file(target.book().id());
      file.lanes = {lane};
      REQUIRE(take_in(*copy.book, {"x", file.text(), ""}));
    }
    CHECK(text_of(*copy.book, one, "name") == "settled");
    CHECK_FALSE(differs(*copy.book, one));
  }
  CHECK(target.book().digest() == other.book->digest());
}

TEST_CASE(
    "scenario 29: bombs, deep nesting, huge numbers, lone surrogates are refused; a path and a formula are just text") {
  Target target;
  CHECK(target.take(packed(std::string(64 << 20, '\0'))) == "take.too_large");
  CHECK(target.take(packed("{\"format\":" + std::string(64 << 20, ' '))) == "take.too_large");
  CHECK(target.take("{\"format\":" + std::string(500'000, '[')) == "take.too_large");
  CHECK(target.take(std::string(500'000, '[')) == "take.foreign");
  CHECK(target.take_line(std::string(60'000, '[')) != "(taken)");
  std::string huge = write_change(target.change({text_field_value("name", "x")}));
  huge.replace(huge.find("\"c\":0"), 5, "\"c\":1" + std::string(400, '0'));
  CHECK(target.take_line(huge) != "(taken)");

  const Change path = target.change({text_field_value("name", "../../x"), text_field_value("note", "=cmd()")});
  CHECK(target.take_change(path) == "(taken)");
  CHECK(text_of(target.book(), path.record, "name") == "../../x");
  CHECK(text_of(target.book(), path.record, "note") == "=cmd()");
  // Neither a lane's label nor a book's name is ever a file name.
  HandFile named(target.book().id());
  named.header.name = named.header.label = "../../etc/x";
  HandLane lane(90);
  lane.label = "../../x";
  lane.save(target.book().new_record(), "rig", {text_field_value("name", "y")});
  named.lanes = {lane};
  CHECK(target.take(named) == "(taken)");
  edit(target.book(), target.book().id(), {text_field_value("name", "../../Alder\\Reach")});
  CHECK(got(give(target.book(), {})).file.name.find_first_of("/\\") == std::string::npos);
  CHECK(got(give(target.book(), {})).file.name.starts_with("alder-reach-"));
}

TEST_CASE("CSV: text that a spreadsheet would run is quoted; numbers stay numbers") {
  for (const char* text : {"=cmd()", "+1 bed", "-1 bed", "@import", "\tx", "\rx"})
    CHECK(csv_value(text, CellKind::Text).find('\'') != std::string::npos);
  for (const char* text : {"-1.5", "+2", "=2"}) CHECK(csv_value(text, CellKind::Number) == text);
  CHECK(csv_value("a,\"b\"", CellKind::Text) == "\"a,\"\"b\"\"\"");
  CHECK(csv_value("plain", CellKind::Text) == "plain");
}

TEST_CASE("marks that turn text around, and terminal controls, are in the journal and in nothing that is shown") {
  Target target;
  const std::string evil = "invoice\u202Egnp.exe\u2066\x1b[31m";
  const Change change = target.change({text_field_value("name", evil)});
  CHECK(target.take_change(change) == "(taken)");
  CHECK(text_of(target.book(), change.record, "name") == evil);  // Byte for byte.
  const std::string clean = "invoicegnp.exe[31m";
  CHECK(printable(evil) == clean);
  CHECK(escape_html(evil) == clean);
  const std::vector<std::string> spelled = spell({evil}, Words(Language::English), {});
  CHECK(spelled == std::vector<std::string>{clean});
  ItemTree tree;
  tree.begin_frame();
  Item item;
  item.id = 1;
  item.name = evil;
  tree.add(item);
  tree.end_frame();
  REQUIRE(tree.items().size() == 1);
  CHECK(tree.items()[0].name == clean);  // What the page lays over the canvas and screen readers speak.
}
