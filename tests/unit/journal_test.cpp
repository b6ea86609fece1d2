// The journal: what a write does, who a copy is, what is refused.
#include "book_copies.h"

using namespace steep;
using namespace steep::test;

TEST_CASE("a new book starts with one line in house base") {
  Copy ana("Ana's phone", 1);
  CHECK_FALSE(ana.book->is_started());
  CHECK(ana.book->copy().is_nil());
  REQUIRE(ana.book->start("Alder Reach", false));
  CHECK(ana.book->is_started());
  CHECK(ana.book->name() == "Alder Reach");
  CHECK_FALSE(ana.book->is_demo());
  CHECK(ana.book->joined() == std::vector<Id>{ana.book->id()});
  CHECK(ana.book->change_count() == 1);
  REQUIRE(ana.book->lanes().size() == 1);
  const Lane lane = ana.book->lanes()[0];
  CHECK(lane.part == Part{});
  CHECK(lane.id == ana.book->copy());
  CHECK(lane.label == "Ana's phone");
  CHECK(lane.mine);
  const Section section = section_of(*ana.book, lane);
  REQUIRE(section.lines.size() == 1);
  CHECK(section.lines[0].prev == chain_start(lane.id));
  CHECK(section.lines[0].hash == chain_next(chain_start(lane.id), section.lines[0].body));
  CHECK_FALSE(ana.book->start("Again", false));
}

TEST_CASE("a record reads back as it was written, also after the book was closed") {
  Copy ana("Ana's phone", 2);
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id person = add(*ana.book, "person", {text_field_value("name", "Ana Leland")});
  Save save = save_of(*ana.book, "vessel",
                      {text_field_value("name", "Barrel \"two\"\n"), quantity_value("volume.nominal", "55 gal"),
                       not_taken("volume.working"), number_value("outlets", "4")});
  save.why = "new";
  REQUIRE(ana.book->write(save, person));
  ana.open();
  const auto record = ana.book->record(save.record);
  REQUIRE(record);
  REQUIRE(record->has_value());
  CHECK((*record)->kind == "vessel");
  CHECK((*record)->part == Part{});
  CHECK((*record)->made_by == person);
  CHECK((*record)->made.offset_minutes == -240);
  CHECK((*record)->made_on == ana.book->copy());
  CHECK((*record)->field("name")->text == "Barrel \"two\"\n");
  CHECK((*record)->field("volume.nominal")->text == "55 gal");
  CHECK((*record)->field("volume.working")->type == FieldType::NotTaken);
  CHECK((*record)->field("depth") == nullptr);
  CHECK((*record)->groups.size() == 3);
  CHECK_FALSE((*record)->differs());
  CHECK((*record)->groups[0].heads[0].why == "new");
  const auto all = ana.book->records("vessel");
  REQUIRE(all);
  CHECK(all->size() == 1);
  CHECK(ana.book->records("vessel", Part{{}, 2026})->empty());
}

TEST_CASE("the wide table holds the winner's values with their SI") {
  Copy ana("Ana's phone", 3);
  REQUIRE(ana.book->start("Alder Reach", false));
  add(*ana.book, "water-source",
      {text_field_value("name", "Creek well"), word_value("kind", "well"), date_value("test.date", {2026, 5, 1}),
       FieldValue{"test.e_coli", FieldType::Censored, "<1", {}}});
  add(*ana.book, "vessel",
      {text_field_value("name", "Barrel"), quantity_value("volume.nominal", "10 L"), not_taken("volume.working"),
       number_value("outlets", "4")});
  auto query =
      ana.book->db().query("SELECT name, kind, test_date, test_e_coli, struck, differs, part FROM k_water_source");
  REQUIRE(query.next());
  CHECK(query.text(0) == "Creek well");
  CHECK(query.text(1) == "well");
  CHECK(query.text(2) == "2026-05-01");
  CHECK(query.text(3) == "<1");
  CHECK(query.is_null(4));
  CHECK(query.is_null(5));
  CHECK(query.text(6) == "house/base");
  auto vessel = ana.book->db().query(
      "SELECT volume_nominal, volume_nominal_si, volume_working, volume_working_si, not_taken, outlets_n FROM "
      "k_vessel");
  REQUIRE(vessel.next());
  CHECK(vessel.text(0) == "10 L");
  CHECK(vessel.real(1) == doctest::Approx(0.010));  // 1 L = 10⁻³ m³ by definition.
  CHECK(vessel.is_null(2));
  CHECK(vessel.is_null(3));
  CHECK(vessel.text(4) == " volume.working ");
  CHECK(vessel.real(5) == 4.0);
}

TEST_CASE("one write is one act in each part, its last line marked") {
  Copy ana("Ana's phone", 4);
  REQUIRE(ana.book->start("Alder Reach", false));
  Save farm = save_of(*ana.book, "farm", {text_field_value("name", "Alder Reach")});
  Save block = save_of(*ana.book, "block", {reference_value("farm", farm.record), text_field_value("name", "Block 4")});
  Save bed = save_of(*ana.book, "bed", {reference_value("block", block.record), text_field_value("name", "7")});
  Save rig = save_of(*ana.book, "rig", {text_field_value("name", "Backpack")});
  const std::vector<Save> saves = {bed, rig, block, farm};
  REQUIRE(ana.book->write(saves, {}));
  CHECK(ana.book->part_of(bed.record) == Part{farm.record, 0});
  CHECK(ana.book->part_of(rig.record) == Part{});
  for (const Lane& lane : ana.book->lanes()) {
    CHECK(lane.copy == ana.book->copy());
    const Section section = section_of(*ana.book, lane);
    std::vector<Change> changes;
    for (const auto& line : section.lines) changes.push_back(*read_change(line.body));
    if (lane.part == Part{}) {
      REQUIRE(changes.size() == 2);
      CHECK(changes[1].act == 2);
      CHECK(changes[1].act_ends);
    } else {
      CHECK(lane.part == Part{farm.record, 0});
      REQUIRE(changes.size() == 3);
      for (const Change& change : changes) CHECK(change.act == 1);
      CHECK_FALSE(changes[0].act_ends);
      CHECK_FALSE(changes[1].act_ends);
      CHECK(changes[2].act_ends);
      CHECK(changes[0].part == Part{farm.record, 0});
      CHECK_FALSE(changes[1].part);
    }
  }
}

TEST_CASE("a pass lies in its farm's year of the work, its doses beside it, a brew in the house's year") {
  Copy ana("Ana's phone", 5);
  Book& book = *ana.book;
  REQUIRE(book.start("Alder Reach", false));
  const Id farm = add(book, "farm", {text_field_value("name", "Alder Reach")});
  const Stamp new_year{{1'767'243'000'000}, -300};  // 2026-01-01T04:50Z, still 2025 where it was written.
  const Id pass =
      add(book, "pass", {reference_value("farm", farm), word_value("aim", "leaf"), instant_value("start", new_year)});
  CHECK(book.part_of(pass) == Part{farm, 2025});
  const Id load = add(book, "load", {reference_value("pass", pass)});
  CHECK(book.part_of(load) == Part{farm, 2025});
  const Id note = add(book, "note", {reference_value("of", load), text_field_value("text", "clogged twice")});
  CHECK(book.part_of(note) == Part{farm, 2025});
  const Id brew = add(book, "brew", {number_value("number", "31")});
  CHECK(book.part_of(brew) == Part{{}, 2026});
}

TEST_CASE("refused whole, and nothing is written") {
  Copy ana("Ana's phone", 6);
  Book& book = *ana.book;
  REQUIRE(book.start("Alder Reach", false));
  const Id rig = add(book, "rig", {text_field_value("name", "Backpack")});
  const Id farm = add(book, "farm", {text_field_value("name", "Alder Reach")});
  const auto before = book.digest();
  const auto lines = book.change_count();
  const auto refused = [&](Save save, std::string_view word) {
    const Save good = save_of(book, "rig", {text_field_value("name", "Cart")});
    const std::vector<Save> both = {good, std::move(save)};
    const auto written = book.write(both, {});
    REQUIRE_FALSE(written);
    CHECK(written.error().word.key == word);
  };
  refused(save_of(book, "tractor", {text_field_value("name", "x")}), "journal.write.kind");
  refused(save_of(book, "rig", {text_field_value("colour", "red")}), "journal.write.field");
  refused(save_of(book, "rig", {quantity_value("swath", "3 ft")}), "journal.write.missing");
  refused(save_of(book, "rig", {text_field_value("name", "x"), quantity_value("swath", "3 gal")}),
          "journal.write.unit");
  refused(save_of(book, "rig", {text_field_value("name", "x"), text_field_value("swath", "3 ft")}),
          "journal.write.value");
  refused(save_of(book, "rig", {text_field_value("name", "x"), word_value("kind", "plane")}), "journal.write.word");
  refused(save_of(book, "rig", {text_field_value("name", "x"), text_field_value("name", "y")}), "journal.write.twice");
  refused(save_of(book, "calibration", {reference_value("rig", book.new_record())}), "journal.write.nothing");
  refused(save_of(book, "calibration", {reference_value("rig", farm)}), "journal.write.reference");
  refused(save_of(book, "book", {text_field_value("name", "Two"), word_value("mode", "real")}),
          "journal.write.started");
  refused(edit_of(book, book.id(), {word_value("mode", "demo")}), "journal.write.demo");
  refused(edit_of(book, rig, {text_field_value("struck", " \t\n")}), "journal.write.reason");
  refused(save_of(book, "rig", {text_field_value("name", std::string(40'000, 'x'))}), "journal.write.value");
  refused(save_of(book, "rig", {text_field_value("name", std::string("\xC0\xAF"))}), "journal.write.value");
  refused(save_of(book, "block", {reference_value("farm", rig), text_field_value("name", "4")}), "journal.write.part");
  Save stale = edit_of(book, rig, {text_field_value("name", "x")});
  stale.seen.push_back({book.copy(), 4000, 1});
  refused(stale, "journal.write.seen");
  CHECK(book.change_count() == lines);
  CHECK(book.digest() == before);
  CHECK(add(book, "rig", {text_field_value("name", "Cart")}) != rig);  // And the next write goes on.
}

TEST_CASE("two saves of one record in one write follow each other") {
  Copy ana("Ana's phone", 7);
  REQUIRE(ana.book->start("Alder Reach", false));
  Save first = save_of(*ana.book, "rig", {text_field_value("name", "Backpack")});
  Save second = first;
  second.fields = {text_field_value("name", "Backpack 2")};
  const std::vector<Save> saves = {first, second};
  REQUIRE(ana.book->write(saves, {}));
  CHECK(text_of(*ana.book, first.record, "name") == "Backpack 2");
  CHECK_FALSE((*ana.book->record(first.record))->differs());
}

TEST_CASE("the clock goes on by at least one, also when the wall clock goes back") {
  Copy ana("Ana's phone", 8);
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id rig = add(*ana.book, "rig", {text_field_value("name", "Backpack")});
  ana.clock -= 10'000'000;
  edit(*ana.book, rig, {text_field_value("name", "Cart")});
  std::int64_t last = 0;
  for (const auto& line : section_of(*ana.book, ana.book->lanes()[0]).lines) {
    const Change change = *read_change(line.body);
    CHECK(change.t > last);
    last = change.t;
  }
  const auto history = ana.book->history(rig);
  REQUIRE(history);
  REQUIRE(history->size() == 2);
  CHECK((*history)[0].change.fields[0].text == "Backpack");
  CHECK_FALSE((*history)[0].clock_doubtful);  // Set back by less than a day.
  ana.clock -= 3 * kDay;
  edit(*ana.book, rig, {text_field_value("name", "Cart 2")});
  CHECK((*ana.book->history(rig))[0].clock_doubtful);
}

TEST_CASE("a clock of 1970 or 2038 is marked, and no line is refused for it") {
  Copy ana("Ana's phone", 9);
  REQUIRE(ana.book->start("Alder Reach", false));
  ana.clock = 5'000;
  const Id early = add(*ana.book, "rig", {text_field_value("name", "Backpack")});
  ana.clock = 2'147'483'647'000;
  const Id late = add(*ana.book, "rig", {text_field_value("name", "Cart")});
  ana.clock = kSpring2026;
  edit(*ana.book, late, {text_field_value("name", "Cart 2")});
  CHECK((*ana.book->history(early))[0].clock_doubtful);
  CHECK((*ana.book->history(late))[0].clock_doubtful);
  CHECK_FALSE((*ana.book->history(late))[1].clock_doubtful);
  CHECK(text_of(*ana.book, late, "name") == "Cart 2");
}

TEST_CASE("a copy keeps its lanes over a restart, and takes new ones when the anchor is missing or differs") {
  Copy ana("Ana's phone", 10);
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id lane = ana.book->copy();
  ana.open();
  CHECK(ana.book->copy() == lane);
  add(*ana.book, "rig", {text_field_value("name", "Backpack")});
  CHECK(ana.book->lanes().size() == 1);

  SUBCASE("missing") { ana.anchor.clear(); }
  SUBCASE("of another state") {
    ana.anchor += make_lane_id([](auto bytes) { bytes[0] = 1; }).text() + "\n";
  }
  ana.open();
  CHECK(ana.book->copy().is_nil());
  add(*ana.book, "rig", {text_field_value("name", "Cart")});
  CHECK(ana.book->copy() != lane);
  CHECK(ana.book->lanes().size() == 2);
  const Id second = ana.book->copy();
  ana.open();
  CHECK(ana.book->copy() == second);
}

TEST_CASE("a file given while not saved: new lanes at the next start, not before") {
  Copy ana("Ana's phone", 11);
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id lane = ana.book->copy();
  REQUIRE(ana.book->note_given({}, true));
  CHECK(ana.book->handed_over()->not_given == 1);
  add(*ana.book, "farm", {text_field_value("name", "Alder Reach")});  // A new lane writes the anchor again.
  CHECK(ana.book->copy() == lane);
  ana.open();
  CHECK(ana.book->copy().is_nil());
}

TEST_CASE("drafts outlive a restart with the heads of their opening") {
  Copy ana("Ana's phone", 12);
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id rig = add(*ana.book, "rig", {text_field_value("name", "Backpack")});
  const auto heads = (*ana.book->record(rig))->heads();
  const auto counter = ana.book->counter();
  REQUIRE(ana.book->keep_draft({"rig:" + rig.text(), rig, heads, {{"name", "Cart"}, {"swath", "3 f"}}, {kSpring2026}}));
  CHECK(ana.book->counter() == counter);
  edit(*ana.book, rig, {text_field_value("name", "Hose")});
  ana.open();
  const auto draft = ana.book->draft("rig:" + rig.text());
  REQUIRE(draft);
  REQUIRE(draft->has_value());
  CHECK((*draft)->heads == heads);
  CHECK((*draft)->fields.at("swath") == "3 f");
  Save save;
  save.record = rig;
  save.kind = "rig";
  save.seen = (*draft)->heads;
  save.fields = {text_field_value("name", (*draft)->fields.at("name"))};
  REQUIRE(ana.book->write(save, {}));
  CHECK((*ana.book->record(rig))->differs());  // Nobody overruled what he had not seen.
  REQUIRE(ana.book->drop_draft("rig:" + rig.text()));
  CHECK_FALSE(ana.book->draft("rig:" + rig.text())->has_value());
}

TEST_CASE("handed over in three words") {
  Copy ana("Ana's phone", 13), ben("Office", 14);
  REQUIRE(ana.book->start("Alder Reach", false));
  add(*ana.book, "rig", {text_field_value("name", "Backpack")});
  CHECK(ana.book->handed_over()->not_given == 2);
  CHECK(ana.book->handed_over()->not_given_since.ms > 0);
  REQUIRE(ana.book->note_given(tips_of(*ana.book), false));
  CHECK(ana.book->handed_over()->given == 2);
  CHECK(ana.book->handed_over()->not_given == 0);
  take_all(ben, ana);
  add(*ben.book, "rig", {text_field_value("name", "Cart")});
  Book::Peer peer;
  peer.copy = ben.book->copy();
  peer.label = "Office";
  peer.heard = {ana.clock};
  peer.tips = tips_of(*ben.book);
  take_all(ana, ben);
  REQUIRE(ana.book->note_peer(peer));
  const auto state = ana.book->handed_over();
  CHECK(state->confirmed == 2);
  CHECK(state->given == 0);
  CHECK(state->confirmed_by == "Office");
  REQUIRE(ana.book->peers());
  REQUIRE(ana.book->peers()->size() == 1);
  CHECK((*ana.book->peers())[0].tips == peer.tips);
  add(*ana.book, "rig", {text_field_value("name", "Boom")});
  CHECK(ana.book->handed_over()->not_given == 1);
}

TEST_CASE("a save carries the tips of others that came in since") {
  Copy ana("Ana's phone", 15), ben("Office", 16);
  REQUIRE(ana.book->start("Alder Reach", false));
  take_all(ben, ana);
  add(*ben.book, "rig", {text_field_value("name", "Cart")});
  add(*ben.book, "rig", {text_field_value("name", "Boom")});
  const Lane ana_lane = ana.book->lanes()[0];
  for (const Lane& lane : ben.book->lanes()) {
    if (!lane.mine) continue;
    const Section section = section_of(*ben.book, lane);
    REQUIRE(section.lines.size() == 2);
    CHECK(read_change(section.lines[0].body)->tips ==
          std::vector<ChangeRef>{ref_of(ana_lane.id, ana_lane.last_seq, ana_lane.tip)});
    CHECK(read_change(section.lines[1].body)->tips.empty());
  }
}

TEST_CASE("check names the line that was edited by hand; a rebuild gives the same digest") {
  Copy ana("Ana's phone", 17);
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id rig = add(*ana.book, "rig", {text_field_value("name", "Backpack")});
  edit(*ana.book, rig, {text_field_value("name", "Cart")});
  auto health = ana.book->check();
  REQUIRE(health);
  CHECK(health->changes == 3);
  CHECK(health->sqlite == "ok");
  CHECK(health->broken_chains.empty());
  CHECK(health->tables_match);
  const Hash digest = ana.book->digest();
  REQUIRE(ana.book->rebuild());
  CHECK(ana.book->digest() == digest);
  CHECK(text_of(*ana.book, rig, "name") == "Cart");

  ana.tamper("UPDATE change SET body=replace(body,'Backpack','Rucksack')");
  health = ana.book->check();
  REQUIRE(health->broken_chains.size() == 1);
  CHECK(health->broken_chains[0] == ana.book->copy().text() + " at 2");
  ana.tamper("DELETE FROM change WHERE seq=2");
  CHECK(ana.book->check()->broken_chains.size() == 1);  // Cut inside our own lane.
}

TEST_CASE("another connection's write is noticed") {
  Copy ana("Ana's phone", 18);
  REQUIRE(ana.book->start("Alder Reach", false));
  CHECK_FALSE(ana.book->changed_elsewhere());
  const auto counter = ana.book->counter();
  ana.tamper("UPDATE book SET name='Quince Hollow'");
  CHECK(ana.book->changed_elsewhere());
  CHECK(ana.book->name() == "Quince Hollow");
  CHECK(ana.book->counter() > counter);
  CHECK_FALSE(ana.book->changed_elsewhere());
}

TEST_CASE("a file of something else, or of a newer program, is not opened as a book") {
  Copy ana("Ana's phone", 19);
  REQUIRE(ana.book->start("Alder Reach", false));
  BookNeeds needs;
  needs.now = [] { return Stamp{{kSpring2026}, 0}; };
  SUBCASE("newer") {
    ana.tamper("UPDATE book SET format=99");
    const auto opened = Book::open(ana.place(), needs);
    REQUIRE_FALSE(opened);
    CHECK(opened.error().kind == Trouble::Unsupported);
  }
  SUBCASE("something else") {
    ana.tamper("PRAGMA application_id=7");
    const auto opened = Book::open(ana.place(), needs);
    REQUIRE_FALSE(opened);
    CHECK(opened.error().word.key == "book.foreign");
  }
  SUBCASE("other kinds: folded anew at the start") {
    const Hash digest = ana.book->digest();
    ana.tamper("UPDATE book SET shape='older'; DROP TABLE k_book; CREATE TABLE k_barrow(rec); DELETE FROM head;");
    ana.open();
    CHECK(ana.book->is_started());
    CHECK(ana.book->digest() == digest);
    CHECK(ana.book->check()->tables_match);
    auto left = ana.book->db().query("SELECT count(*) FROM sqlite_schema WHERE name='k_barrow'");
    REQUIRE(left.next());
    CHECK(left.integer(0) == 0);
  }
  SUBCASE("lines found by their hash alone: indexes of the journal become those of today") {
    const Hash digest = ana.book->digest();
    ana.tamper(
        "UPDATE book SET shape='older'; DROP INDEX change_address; DROP INDEX change_record;"
        "CREATE INDEX change_address ON change(lane, seq, wall); CREATE UNIQUE INDEX change_hash ON change(hash);");
    ana.open();
    CHECK(ana.book->digest() == digest);
    CHECK(ana.book->check()->tables_match);
    CHECK(ana.book->check()->sqlite == "ok");
    Copy fresh("Marek's phone", 8);
    const auto indexes = [](const Book& book) {
      std::vector<std::string> all;
      auto query = book.db().query(
          "SELECT sql FROM sqlite_schema WHERE name IN ('change_address', 'change_record') ORDER BY name");
      while (query.next()) all.push_back(query.text(0));
      return all;
    };
    CHECK(indexes(*ana.book).size() == 2);
    CHECK(indexes(*ana.book) == indexes(*fresh.book));
    for (const Lane& lane : ana.book->lanes())
      for (const Book::Line& line : section_of(*ana.book, lane).lines) {
        CHECK(ana.book->holds(lane.id, line.seq, line.hash) == Book::Held::Yes);
        CHECK(ana.book->holds(lane.id, line.seq, line.prev) == Book::Held::No);
        CHECK(ana.book->holds(lane.id, line.seq + 1, line.hash) == Book::Held::No);
      }
    REQUIRE(ana.book->start("Alder Reach", false).error().kind == Trouble::Conflict);
  }
}
