// What a person decides after files came in, and what was changed when by whom.
#include "book/settle_commands.h"

#include "book/audit.h"
#include "book/bed_states.h"
#include "book/questions.h"
#include "book/twins.h"
#include "handover/give.h"
#include "handover/take.h"
#include "tests/unit/farm_book.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Alder Reach on Ana's phone and in the office, with one lot; both know the same.
struct TwoCopies {
  FarmBook farm{1, 4};
  Copy office{"Office", 77};
  Id lot;
  TwoCopies() {
    lot = farm.lot(farm.material("Kelp, liquid", "microbe-food", false), "K-19", "16 fl oz");
    take_all(office, farm.copy);
  }
  Book& ana() { return farm.book(); }
  Book& desk() { return *office.book; }
  void same() {
    meet(farm.copy, office);
    CHECK(ana().digest() == desk().digest());
  }
  Going by(std::string reason = {}) const { return {farm.ana, std::move(reason), false}; }
};

File file_of(const Book& book) { return got(give(book, {})).file; }

/// Everything that a plan may not touch.
struct Untouched {
  Hash digest;
  std::int64_t changes;
  std::size_t batches, lanes;
  explicit Untouched(const Book& book)
      : digest(book.digest()),
        changes(book.change_count()),
        batches(book.batches()->size()),
        lanes(book.lanes().size()) {}
  bool operator==(const Untouched&) const = default;
};

const Group& group_of_record(const Record& record, std::string_view key) {
  for (const Group& group : record.groups)
    if (group.key == key) return group;
  REQUIRE_MESSAGE(false, "no such group");
  return record.groups.front();
}
Record read(const Book& book, const Id& id) {
  auto record = got(book.record(id));
  REQUIRE(record);
  return *record;
}

}  // namespace

// ---- History -------------------------------------------------------------------------------------

TEST_CASE("history gives each field its old value, and all of them where versions differed") {
  TwoCopies two;
  edit(two.ana(), two.lot, {quantity_value("quantity", "15 fl oz")});
  edit(two.desk(), two.lot, {quantity_value("quantity", "32 fl oz"), text_field_value("supplier", "Harbor Supply")});
  two.same();
  REQUIRE(differs(two.ana(), two.lot));
  const FactChoice second{"quantity", 1, {}};
  const std::string chosen = group_of_record(read(two.ana(), two.lot), "quantity").heads[1].fields[0].text;
  done(settle_facts(two.ana(), two.lot, std::span(&second, 1), "counted on the shelf", two.by()));

  const auto changes = got(changes_of(two.ana(), two.lot));
  REQUIRE(changes.size() == 4);
  CHECK(changes[0].creates);
  for (const FieldChange& field : changes[0].fields) CHECK(field.before.empty());
  for (std::size_t i : {1u, 2u}) {
    CHECK_FALSE(changes[i].creates);
    for (const FieldChange& field : changes[i].fields) {
      if (field.now.key == "quantity") {
        REQUIRE(field.before.size() == 1);
        CHECK(field.before[0].text == "16 fl oz");
      } else {
        CHECK(field.before.empty());
      }
    }
  }
  // The settlement saw both.
  REQUIRE(changes[3].fields.size() == 1);
  CHECK(changes[3].fields[0].now.text == chosen);
  CHECK(changes[3].fields[0].before.size() == 2);
  CHECK(changes[3].line.change.why == "counted on the shelf");
}

TEST_CASE("the audit table: one row a field, with copy, old value, reason; also waiting and set-aside changes") {
  TwoCopies two;
  edit(two.desk(), two.lot, {quantity_value("quantity", "32 fl oz")});
  take_all(two.farm.copy, two.office);
  const Table table = got(audit_table(two.ana(), {.record = two.lot}));
  const auto column = [&](std::string_view name) {
    for (std::size_t i = 0; i < table.columns.size(); ++i)
      if (table.columns[i].name == name) return i;
    return table.columns.size();
  };
  // The clocks of the two differ: the office's row is found by what it says.
  const auto row_of = [&](const Table& in) {
    const auto row = std::find_if(in.rows.begin(), in.rows.end(),
                                  [&](const TableRow& r) { return r.cells[column("now")].text == "32 fl oz"; });
    REQUIRE(row != in.rows.end());
    return *row;
  };
  const TableRow last = row_of(table);
  CHECK(last.cells[column("field")].text == "quantity");
  CHECK(last.cells[column("before")].text == "16 fl oz");
  CHECK(last.cells[column("now")].text == "32 fl oz");
  CHECK(last.cells[column("copy")].text == "Office");
  CHECK(last.cells[column("kind")].text == "lot");
  CHECK(last.cells[column("record")].text == two.lot.text());
  CHECK(last.cells[column("hash")].text.size() == 64);
  CHECK(last.cells[column("state")].text.empty());

  // The whole book has every field of every change.
  std::size_t fields = 0;
  for (const Section& section : everything(two.ana()))
    for (const Book::Line& line : section.lines) fields += read_change(line.body)->fields.size();
  CHECK(got(audit_table(two.ana())).rows.size() == fields);
  CHECK(got(audit_table(two.ana(), {.kind = "lot"})).rows.size() == table.rows.size());
  CHECK(refusal(audit_table(two.ana(), {.kind = "tractor"})) == "table.no-kind");

  // A file set aside stays readable, and says so.
  REQUIRE(two.ana().set_aside(two.ana().batches()->front().row, true));
  const Table aside = got(audit_table(two.ana(), {.record = two.lot}));
  CHECK(aside.rows.size() == table.rows.size());
  CHECK(row_of(aside).cells[column("state")].text == "set aside");
  CHECK(got(audit_table(two.ana(), {.from = Date{2031, 1, 1}})).rows.empty());
}

// ---- Strikes that crossed ------------------------------------------------------------------------

TEST_CASE("struck here, edited there: it stays struck, or counts again; either ends the question on every copy") {
  TwoCopies two;
  done(strike(two.ana(), two.lot, "logged twice", two.by()));
  edit(two.desk(), two.lot, {quantity_value("quantity", "32 fl oz")});
  two.same();
  REQUIRE(reviews(two.ana(), "review.edited_unaware") == 1);
  REQUIRE(reviews(two.desk(), "review.edited_unaware") == 1);

  SUBCASE("it stays struck") {
    CHECK(refusal(stay_struck(two.desk(), two.lot, "  ", two.by())) == "record.reason-asked");
    done(stay_struck(two.desk(), two.lot, "the second bottle is lot K-20", two.by()));
    two.same();
    CHECK(read(two.ana(), two.lot).struck == "logged twice");
    CHECK(text_of(two.ana(), two.lot, "quantity") == "32 fl oz");  // kept, in a struck record
  }
  SUBCASE("it counts") {
    done(restore(two.desk(), two.lot, true, "there are two bottles", two.by()));
    two.same();
    CHECK(read(two.ana(), two.lot).struck.empty());
  }
  CHECK(reviews(two.ana(), "review.edited_unaware") == 0);
  CHECK(reviews(two.desk(), "review.edited_unaware") == 0);
  CHECK(refusal(stay_struck(two.ana(), two.farm.rig, "never struck", two.by())) == "record.not-struck");
}

TEST_CASE("a child that came after its parent was struck: it stays for good, or is struck too") {
  TwoCopies two;
  const Id brew = add(two.ana(), "brew", {number_value("number", "31")});
  take_all(two.office, two.farm.copy);
  const Id reading = add(two.desk(), "reading",
                         {reference_value("of", brew), word_value("quantity", "temperature"),
                          quantity_value("value.value", "68 degF"), instant_value("at", two.desk().now())});
  done(strike(two.ana(), brew, "the pump failed", two.by()));
  two.same();
  REQUIRE(reviews(two.ana(), "review.late_child") == 1);
  CHECK(read(two.ana(), reading).struck.empty());

  SUBCASE("it stays") { done(keep_child(two.ana(), reading, "the reading is right", two.by())); }
  SUBCASE("it is struck too") { done(strike(two.ana(), reading, "of the brew that failed", two.by())); }
  two.same();
  CHECK(reviews(two.ana(), "review.late_child") == 0);
  CHECK(reviews(two.desk(), "review.late_child") == 0);
  CHECK(refusal(keep_child(two.ana(), two.farm.rig, "it hangs on nothing", two.by())) == "record.no-parent");
}

// ---- Facts ---------------------------------------------------------------------------------------

TEST_CASE("several facts of a record are settled in one save; a typed value is whole") {
  TwoCopies two;
  edit(two.ana(), two.farm.rig,
       {
           quantity_value("tank.volume", "4 gal"),
           quantity_value("tank.dead", "0.2 gal"),
       });
  edit(two.ana(), two.farm.rig, {text_field_value("name", "Backpack A")});
  edit(two.desk(), two.farm.rig, {quantity_value("tank.volume", "5 gal"), quantity_value("tank.dead", "0.15 gal")});
  edit(two.desk(), two.farm.rig, {text_field_value("name", "Backpack B")});
  two.same();
  const Id rig = two.farm.rig;
  const std::int64_t before = two.ana().change_count();

  // Half a fact would mix one person's volume with another's.
  const FactChoice half{"tank", 0, {quantity_value("tank.volume", "4.5 gal")}};
  CHECK(refusal(settle_facts(two.ana(), rig, std::span(&half, 1), "measured", two.by())) == "settle.whole-fact");
  const FactChoice other{"tank", 0, {text_field_value("name", "Backpack")}};
  CHECK(refusal(settle_facts(two.ana(), rig, std::span(&other, 1), "measured", two.by())) == "settle.one-group");
  const FactChoice none{"tank", 9, {}};
  CHECK(refusal(settle_facts(two.ana(), rig, std::span(&none, 1), "measured", two.by())) == "settle.no-choice");
  CHECK(two.ana().change_count() == before);

  const FactChoice both[] = {
      {"tank", 0, {quantity_value("tank.volume", "4.5 gal"), quantity_value("tank.dead", "0.1 gal")}}, {"name", 0, {}}};
  CHECK(refusal(settle_facts(two.ana(), rig, both, "", two.by())) == "record.reason-asked");
  done(settle_facts(two.ana(), rig, both, "measured with a jug", two.by()));
  CHECK(two.ana().change_count() == before + 1);
  CHECK_FALSE(differs(two.ana(), rig));
  two.same();
  CHECK(text_of(two.desk(), rig, "tank.volume") == "4.5 gal");
  CHECK(refusal(settle_facts(two.desk(), rig, both, "again", two.by())) == "settle.agrees");
}

TEST_CASE("all of one side: every fact of which that copy has one version, in one act; the rest stays open") {
  TwoCopies two;
  const Id second = two.farm.lot(two.farm.material("Humic acid", "microbe-food", false), "H-3", "1 gal");
  take_all(two.office, two.farm.copy);
  edit(two.ana(), two.lot, {quantity_value("quantity", "15 fl oz")});
  edit(two.desk(), two.lot, {quantity_value("quantity", "32 fl oz")});
  edit(two.ana(), second, {quantity_value("quantity", "2 gal")});
  edit(two.desk(), second, {quantity_value("quantity", "3 gal")});
  two.same();
  const auto all = got(sides(two.ana()));
  REQUIRE(all.size() == 2);
  CHECK(all[0].label == "Ana's phone");
  CHECK(all[0].facts == 2);
  CHECK(all[1].label == "Office");
  CHECK(all[1].facts == 2);
  CHECK(refusal(side_called(two.ana(), "Nobody's phone")) == "settle.nothing-of");
  const std::int64_t before = two.ana().change_count();
  done(settle_side(two.ana(), got(side_called(two.ana(), "Office")).copy, "the office has the papers", two.by()));
  CHECK(two.ana().change_count() == before + 2);
  CHECK(text_of(two.ana(), two.lot, "quantity") == "32 fl oz");
  CHECK(text_of(two.ana(), second, "quantity") == "3 gal");
  // One act: the two lines stand or wait together.
  const auto lines = got(two.ana().history(two.lot));
  const auto others = got(two.ana().history(second));
  CHECK(lines.back().change.act == others.back().change.act);
  two.same();
  CHECK(got(sides(two.desk())).empty());
}

// ---- What befell a copy ----------------------------------------------------------------------------

TEST_CASE("a copy is told in words what befell it, until somebody has read it") {
  Copy ana("Ana's phone", 5);
  REQUIRE(ana.book->start("Alder Reach", false));
  add(*ana.book, "rig", {text_field_value("name", "Backpack")});
  CHECK_FALSE(ana.book->notice());
  ana.open();
  CHECK_FALSE(ana.book->notice());

  SUBCASE("restored, or opened on another device") {
    ana.anchor.clear();
    ana.open();
    REQUIRE(ana.book->notice());
    CHECK(ana.book->notice()->befell == Book::Befell::Restored);
    CHECK(ana.book->notice()->at.ms > kSpring2026);
  }
  SUBCASE("a file was given while it could not be saved") {
    REQUIRE(ana.book->note_given({}, true));
    ana.open();
    REQUIRE(ana.book->notice());
    CHECK(ana.book->notice()->befell == Book::Befell::GivenUnsaved);
  }
  SUBCASE("another device went on in its name") {
    auto twin = ana.clone("Ana's second phone", 6, true);
    add(*twin->book, "rig", {text_field_value("name", "Cart")});
    add(*ana.book, "rig", {text_field_value("name", "Boom")});
    CHECK(take_all(ana, *twin).twin);
    REQUIRE(ana.book->notice());
    CHECK(ana.book->notice()->befell == Book::Befell::Continued);
  }
  ana.open();  // It outlives a restart …
  REQUIRE(ana.book->notice());
  REQUIRE(ana.book->notice_read());
  CHECK_FALSE(ana.book->notice());
  ana.open();
  CHECK_FALSE(ana.book->notice());  // … but not being read.
}

// ---- Looking before taking -------------------------------------------------------------------------

TEST_CASE("the plan names what will have to be settled, and touches nothing") {
  TwoCopies two;
  const Id rig = two.farm.rig;
  edit(two.ana(), two.lot, {quantity_value("quantity", "15 fl oz")});
  edit(two.desk(), two.lot, {quantity_value("quantity", "32 fl oz")});
  edit(two.ana(), rig, {text_field_value("name", "Backpack A")});
  edit(two.desk(), rig, {text_field_value("name", "Backpack A")});  // The same: agreement.
  done(strike(two.ana(), two.farm.well, "dry since June", two.by()));
  edit(two.desk(), two.farm.well, {text_field_value("name", "North well")});
  const File file = file_of(two.desk());
  const Untouched before(two.ana());
  {
    TakeJob job(two.ana(), file);
    while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
    REQUIRE(job.stage() == TakeJob::Stage::Planned);
    REQUIRE(job.plan().differs.size() == 2);
    CHECK(job.plan().compared_all);
    CHECK(std::count(job.plan().differs.begin(), job.plan().differs.end(),
                     PlanDiffers{PlanDiffers::What::Fact, two.lot, "lot", "quantity"}) == 1);
    CHECK(std::count(job.plan().differs.begin(), job.plan().differs.end(),
                     PlanDiffers{PlanDiffers::What::Crossed, two.farm.well, "water-source", ""}) == 1);
    CHECK(Untouched(two.ana()) == before);
  }
  CHECK(Untouched(two.ana()) == before);
  got(take_in(two.ana(), file));
  CHECK(reviews(two.ana(), "review.differs") == 1);
  CHECK(reviews(two.ana(), "review.edited_unaware") == 1);
}

TEST_CASE("lines of a file set aside that come again in another file stay aside, and the plan says so") {
  TwoCopies two;
  edit(two.desk(), two.lot, {quantity_value("quantity", "32 fl oz")});
  const Hash before = two.ana().digest();
  got(take_in(two.ana(), file_of(two.desk())));
  const std::int64_t row = two.ana().batches()->front().row;
  CHECK(two.ana().files_aside() == 0);
  REQUIRE(two.ana().set_aside(row, true));
  CHECK(two.ana().files_aside() == 1);
  CHECK(two.ana().digest() == before);
  add(two.desk(), "rig", {text_field_value("name", "Cart")});
  const File again = file_of(two.desk());
  TakeJob job(two.ana(), again);
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  CHECK(job.plan().fresh == 1);
  CHECK(job.plan().still_aside == 1);
  job.cancel();
  CHECK(got(take_in(two.ana(), again)).still_aside == 1);
  CHECK(text_of(two.ana(), two.lot, "quantity") == "16 fl oz");
  REQUIRE(two.ana().set_aside(row, false));
  CHECK(text_of(two.ana(), two.lot, "quantity") == "32 fl oz");
  CHECK(two.ana().digest() == two.desk().digest());
}

TEST_CASE("what a file brought: records that began with it, without those that hang on another") {
  TwoCopies two;
  const Id brew = add(two.desk(), "brew", {number_value("number", "31")});
  add(two.desk(), "reading",
      {reference_value("of", brew), word_value("quantity", "temperature"), quantity_value("value.value", "68 degF"),
       instant_value("at", two.desk().now())});
  edit(two.desk(), two.lot, {quantity_value("quantity", "32 fl oz")});
  got(take_in(two.ana(), file_of(two.desk())));
  const auto made = got(two.ana().made_by_batch(two.ana().batches()->front().row, 10));
  REQUIRE(made.size() == 1);
  CHECK(made[0] == brew);
}

// ---- Two starts of one business --------------------------------------------------------------------

namespace {

/// A pass entered after the fact over one bed, an hour ago.
void sprayed(FarmBook& farm, const Id& bed) {
  Book& book = farm.book();
  const Stamp start{farm.now() - kHour, -240}, finish{farm.now() - kHour + 5 * kMinute, -240};
  const Id pass = add(book, "pass",
                      {reference_value("farm", farm.farm), number_value("number", "7"), word_value("aim", "leaf"),
                       instant_value("start", start), instant_value("finish", finish)});
  const Id load =
      add(book, "load",
          {reference_value("pass", pass), number_value("number", "1"), reference_value("mix.brew", farm.brew())});
  add(book, "dose",
      {reference_value("what.load", load), reference_value("what.bed", bed), quantity_value("what.from", "0 ft"),
       quantity_value("what.to", "100 ft"), quantity_value("what.width", "30 in"), word_value("what.how", "done"),
       instant_value("when.start", start), instant_value("when.finish", finish)});
}

bool holds_at_noon(const FarmBook& farm, const Id& of_farm, std::size_t bed) {
  const BedStates states = got(bed_states(farm.book(), of_farm, farm.now()));
  return states.beds[bed].holds_harvest(states.at);
}

}  // namespace

TEST_CASE("two starts joined: beds of equal block and name share holds until somebody says that they are two") {
  FarmBook laptop(1, 4, "Laptop", 21), phone(1, 4, "Ana's phone", 22);
  sprayed(phone, phone.beds[2]);
  // Another book: both names, and only the typed name joins.
  const File file = file_of(phone.book());
  const auto refused = take_in(laptop.book(), file);
  REQUIRE_FALSE(refused);
  CHECK(refused.error().word.key == "take.other_book");
  REQUIRE(refused.error().values.size() == 2);
  CHECK(refusal(take_in(laptop.book(), file, "Some other farm")) == "take.join_name");
  CHECK(twin_beds(laptop.book())->empty());
  got(take_in(laptop.book(), file, "Alder Reach"));

  REQUIRE(got(twin_beds(laptop.book())).size() == 4);
  CHECK(holds_at_noon(laptop, phone.farm, 2));
  CHECK(holds_at_noon(laptop, laptop.farm, 2));  // nobody sprayed there under this name, but it may be the same ground
  CHECK_FALSE(holds_at_noon(laptop, laptop.farm, 1));
  int offered = 0;
  Id block, other;
  for (const OpenQuestion& question : got(open_questions(laptop.book()))) {
    if (question.kind != QuestionKind::SameThing || question.record_kind != "block") continue;
    ++offered;
    block = question.record;
    other = question.other;
  }
  REQUIRE(offered == 1);  // one for the block, not one a bed
  const Going by{laptop.ana, {}, false};
  const auto is_offered = [&] {
    const auto open = got(open_questions(laptop.book()));
    return std::any_of(open.begin(), open.end(), [&](const OpenQuestion& q) {
      return q.kind == QuestionKind::SameThing && q.record == block && q.other == other;
    });
  };
  CHECK(is_offered());

  SUBCASE("they are two") {
    done(say_not_same(laptop.book(), block, other, by));
    CHECK(twin_beds(laptop.book())->empty());
    CHECK_FALSE(is_offered());
    CHECK_FALSE(holds_at_noon(laptop, laptop.farm, 2));
    CHECK(holds_at_noon(laptop, phone.farm, 2));
  }
  SUBCASE("they are one") {
    done(join_ground(laptop.book(), block, other, "the same field", by));
    const auto twins = got(twin_beds(laptop.book()));
    REQUIRE(twins.size() == 4);
    for (const TwinBeds& pair : twins) CHECK(pair.said);
    CHECK(holds_at_noon(laptop, laptop.farm, 2));
    CHECK(got(bed_states(laptop.book(), laptop.farm, laptop.now())).beds.size() == 4);  // each farm still shows its own
    CHECK(got(bed_states(laptop.book(), phone.farm, laptop.now())).beds.size() == 4);
    CHECK_FALSE(is_offered());
    // … and apart again: nobody has said that it is another bed, so it is asked about once more.
    const Id bed = read(laptop.book(), twins[0].bed).field("same_as") ? twins[0].bed : twins[0].other;
    done(part_same(laptop.book(), bed, "only the first three", by));
    CHECK(is_offered());
  }
  // The other copy, once it has the answer, folds it alike.
  got(take_in(phone.book(), file_of(laptop.book())));
  CHECK(phone.book().digest() == laptop.book().digest());
  CHECK(holds_at_noon(phone, laptop.farm, 2) == holds_at_noon(laptop, laptop.farm, 2));
}

TEST_CASE("a book of one farm has no twins, and two farms of other names have none either") {
  FarmBook farm(1, 3);
  CHECK(twin_beds(farm.book())->empty());
  FarmGiven client;
  client.name = "Quince Hollow";
  client.zone_name = "America/New_York";
  client.tea_wait_days = 1;
  BlockGiven north;
  north.name = "North";
  north.beds = 3;
  north.length = q("50 ft");
  north.width = q("30 in");
  client.blocks.push_back(north);
  got(start_farm(farm.book(), client, farm.by_ana()));
  CHECK(got(farms(farm.book())).size() == 2);
  CHECK(twin_beds(farm.book())->empty());
}
