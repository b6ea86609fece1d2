// Merge scenarios: many copies, wrong clocks, restored and cloned storage, lost files.
#include "book/codes.h"
#include "book/enter.h"
#include "book/pass_start.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

struct Third : Copy {
  Third() : Copy("Marek's phone", 3) {
    checks = begin_checks;
    open();
  }
};

}  // namespace

TEST_CASE("scenario 11: three copies in a ring, their files in every order: one digest") {
  Hash digest{};
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    CAPTURE(seed);
    Farm2 farm;
    Third marek;
    hand(farm.ana.copy, marek);
    Copy* const copies[] = {&farm.ana.copy, &farm.office, &marek};
    int number = 0;
    for (Copy* copy : copies) edit(*copy->book, farm.dose, farm.volume(std::to_string(++number) + " gal"));
    strike_on(marek, farm.dose, "never happened");
    std::vector<std::pair<Copy*, File>> files;  // To whom, what: each to both others.
    for (std::size_t from = 0; from < 3; ++from)
      for (const std::size_t step : {1, 2}) files.emplace_back(copies[(from + step) % 3], file_of(*copies[from]));
    Chance chance(seed);
    for (std::size_t k = files.size(); k > 1; --k) std::swap(files[k - 1], files[chance.below(k)]);
    for (const auto& [to, file] : files) take_file(*to, file);
    CHECK(agree(farm.ana.copy, farm.office));
    CHECK(agree(farm.ana.copy, marek));
    CHECK(group_at(marek, farm.dose, "what").heads.size() == 3);
    if (seed == 1) digest = marek.book->digest();
    CHECK(marek.book->digest() == digest);
  }
}

TEST_CASE(
    "scenario 15: a phone in 2038 for ten saves, then set right: later edits stand, times are marked, nothing is "
    "refused") {
  Farm2 farm;
  const std::int64_t today = farm.ana.copy.clock;
  farm.ana.copy.clock = 2'147'483'647'000;
  for (int i = 0; i < 10; ++i)
    edit(farm.book(), farm.dose, {text_field_value("note", "from the future " + std::to_string(i))});
  farm.ana.copy.clock = today;
  hand(farm.ana.copy, farm.office);
  edit(*farm.office.book, farm.dose, {text_field_value("note", "today")});
  exchange(farm.ana.copy, farm.office);
  edit(farm.book(), farm.dose, {text_field_value("note", "corrected")});  // The same phone, its clock right again.
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  CHECK(text_of(*farm.office.book, farm.dose, "note") == "corrected");
  CHECK_FALSE(differs(*farm.office.book, farm.dose));
  const auto history = got(farm.office.book->history(farm.dose));
  REQUIRE(history.size() == 13);
  for (std::size_t i = 1; i <= 10; ++i) CHECK(history[i].clock_doubtful);
  CHECK_FALSE(history[11].clock_doubtful);
  CHECK_FALSE(history[12].clock_doubtful);
  CHECK(text_in(history[12].change.fields, "note") == "corrected");  // By cause, not by clock.
}

TEST_CASE(
    "scenario 16: a phone in 1970: saved in order and marked; a time of work is asked for, not taken from the clock") {
  Farm2 farm;
  farm.ana.copy.clock = 5'000;
  const Id first = add(farm.book(), "rig", {text_field_value("name", "Hose")});
  edit(farm.book(), first, {text_field_value("name", "Hose 2")});
  hand(farm.ana.copy, farm.office);
  const auto history = got(farm.office.book->history(first));
  REQUIRE(history.size() == 2);
  CHECK(text_in(history[1].change.fields, "name") == "Hose 2");
  CHECK(history[0].ref.seq < history[1].ref.seq);
  CHECK(history[0].clock_doubtful);
  CHECK(history[1].clock_doubtful);
  CHECK(history[0].change.wall < history[0].change.t);  // The clock as it was; the order by what was known before.

  const auto before = farm.book().change_count();
  const Going going{farm.ana.ana, "for the hens", false};
  CHECK(refusal(start_pass(farm.book(), farm.ana.choices(farm.brew, farm.ana.beds), {farm.ana.ana, "late", true})) ==
        "check.clock-wrong");
  const auto reading = [&](std::string at) {
    return enter(farm.book(), "harvest", {{"bed", "N1"}, {"amount", "18 lb"}, {"at", std::move(at)}}, {}, going);
  };
  CHECK(farm.book().change_count() == before);
  CHECK(refusal(reading("1970-01-01T00:00:09Z")) == "check.clock-wrong");
  CHECK(done(reading("2026-05-14T07:20:00-04:00")).written);
}

TEST_CASE("scenario 17: yesterday's backup is restored and written on, then meets a copy that holds the lost day") {
  Farm2 farm;
  const bool with_anchor = true;
  for (const bool anchor : {with_anchor, !with_anchor}) {
    auto backup = farm.ana.copy.clone("Ana's phone", anchor ? 78 : 79, anchor);
    const Id lost = add(farm.book(), "rig", {text_field_value("name", "The lost day")});
    hand(farm.ana.copy, farm.office);
    const Id fresh = add(*backup->book, "rig", {text_field_value("name", "After the restore")});
    const TakenIn taken = hand(farm.office, *backup);
    // A whole device image brings its anchor along: the file itself shows the fork. Otherwise new lanes were
    // taken when the restored book was opened.
    CHECK(taken.twin == anchor);
    CHECK(taken.broken_chains.empty());
    exchange(*backup, farm.office);
    CHECK(agree(*backup, farm.office));
    for (const Copy* copy : {backup.get(), &farm.office}) {
      CHECK(text_of(*copy->book, lost, "name") == "The lost day");
      CHECK(text_of(*copy->book, fresh, "name") == "After the restore");
    }
    CHECK(got(farm.office.book->check()).broken_chains.empty());
    // One notice, not one a file.
    CHECK_FALSE(hand(farm.office, *backup).twin);
    hand(*backup, farm.ana.copy);
  }
}

TEST_CASE(
    "scenario 18: the page's storage copied to a second phone, both write: both branches everywhere, both take new "
    "lanes") {
  Farm2 farm;
  auto twin = farm.ana.copy.clone("Ana's tablet", 77, true);
  const Id lane = farm.book().copy();
  CHECK(twin->book->copy() == lane);
  edit(farm.book(), farm.ana.rig, {text_field_value("name", "Phone")});
  edit(*twin->book, farm.ana.rig, {text_field_value("name", "Tablet")});
  hand(farm.ana.copy, farm.office);
  hand(*twin, farm.office);
  hand(farm.office, farm.ana.copy);
  hand(farm.office, *twin);
  for (const Copy* copy : std::initializer_list<const Copy*>{&farm.ana.copy, twin.get(), &farm.office}) {
    CHECK(agree(*copy, farm.office));
    CHECK(differs(*copy->book, farm.ana.rig));
    CHECK(got(copy->book->history(farm.ana.rig)).size() == 3);
    CHECK(got(copy->book->check()).broken_chains.empty());
  }
  edit(farm.book(), farm.ana.rig, {text_field_value("name", "Phone again")});
  add(*twin->book, "rig", {text_field_value("name", "Cart")});
  CHECK(farm.book().copy() != lane);
  CHECK(twin->book->copy() != lane);
  CHECK(farm.book().copy() != twin->book->copy());
  exchange(farm.ana.copy, *twin);
  CHECK(agree(farm.ana.copy, *twin));
}

TEST_CASE(
    "scenario 24: a file with only what the other lacks is lost; the next one still starts at what was acknowledged") {
  Farm2 farm;
  hand(farm.office, farm.ana.copy);  // Acknowledges all so far.
  GiveRequest to_office;
  to_office.lacking_at = farm.office.book->copy();
  const Id first = add(farm.book(), "rig", {text_field_value("name", "Cart")});
  const Given lost = got(give(farm.book(), to_office));
  REQUIRE(farm.book().note_given(lost.tips, false));
  CHECK(lost.changes == 1);
  const Id second = add(farm.book(), "rig", {text_field_value("name", "Boom")});
  const Given next = got(give(farm.book(), to_office));
  CHECK(next.changes == 2);  // Given is not arrived.
  take_file(farm.office, next.file);
  CHECK(farm.office.book->kind_of(first) == "rig");
  CHECK(agree(farm.ana.copy, farm.office));

  // Even where only the later one of two files arrives: new records show, what builds on the gap waits, the
  // predecessor is checked when it closes.
  hand(farm.office, farm.ana.copy);
  edit(farm.book(), second, {text_field_value("name", "Boom 2")});
  const File middle = got(give(farm.book(), to_office)).file;
  Book::Peer office = got(farm.book().peers()).front();
  office.tips = tips_of(farm.book());  // As if the middle one had been acknowledged by mistake.
  REQUIRE(farm.book().note_peer(office));
  edit(farm.book(), second, {text_field_value("name", "Boom 3")});
  const Id third = add(farm.book(), "rig", {text_field_value("name", "Hose")});
  const TakenIn taken = hand(farm.ana.copy, farm.office, to_office);
  CHECK(taken.waiting == 1);
  CHECK(taken.broken_chains.empty());
  CHECK(text_of(*farm.office.book, third, "name") == "Hose");
  CHECK(text_of(*farm.office.book, second, "name") == "Boom");
  // What the office says that it has ends before the gap: Ana is not told that the lost line arrived, and
  // her next file begins there again.
  const auto not_arrived = farm.book().handed_over()->confirmed;
  hand(farm.office, farm.ana.copy);
  CHECK(farm.book().handed_over()->confirmed == not_arrived);
  CHECK(got(give(farm.book(), to_office)).changes == 3);  // The lost line and the two behind it.
  const TakenIn closed = take_file(farm.office, middle);
  CHECK(closed.broken_chains.empty());
  CHECK(text_of(*farm.office.book, second, "name") == "Boom 3");
  CHECK(agree(farm.ana.copy, farm.office));
}

TEST_CASE("scenario 30: two zones and the change to summer time: a date stays the same day on all copies") {
  Farm2 farm;
  const Id planting = add(farm.book(), "planting",
                          {reference_value("bed", farm.ana.beds[2]), text_field_value("crop", "Lettuce"),
                           date_value("planted", {2026, 3, 8})});  // The US clock change of 2026.
  hand(farm.ana.copy, farm.office);
  Third marek;  // Its device stands in another zone; the farm's zone counts.
  hand(farm.office, marek);
  for (const Copy* copy : std::initializer_list<const Copy*>{&farm.ana.copy, &farm.office, &marek}) {
    CHECK(text_of(*copy->book, planting, "planted") == "2026-03-08");
    CHECK(got(read_farm(*copy->book, farm.ana.farm)).zone.local(at("2026-03-08T06:59:00Z").at).date ==
          Date{2026, 3, 8});
    CHECK(got(read_farm(*copy->book, farm.ana.farm)).zone.local(at("2026-03-09T03:59:00Z").at).date ==
          Date{2026, 3, 8});
  }
}

TEST_CASE(
    "scenario 41: a file given while 'Not saved', then the page dies: taken, acknowledges nothing, new lanes at the "
    "next start") {
  Farm2 farm;
  hand(farm.office, farm.ana.copy);
  const Id saved_last = farm.book().copy();
  auto on_disk = farm.ana.copy.clone("Ana's phone", 31, true);  // What storage held when it refused.
  const Id unsaved = add(farm.book(), "rig", {text_field_value("name", "Only in memory")});
  GiveRequest request;
  request.unsaved = true;
  const Given given = got(give(farm.book(), request));
  REQUIRE(farm.book().note_given(given.tips, true));
  CHECK(farm.book().handed_over()->given == 0);
  on_disk->anchor = farm.ana.copy.anchor;  // The anchor lies outside the book and was written.

  const auto peers_before = got(farm.office.book->peers());
  take_file(farm.office, given.file);
  CHECK(text_of(*farm.office.book, unsaved, "name") == "Only in memory");
  REQUIRE(got(farm.office.book->peers()).size() == peers_before.size());
  for (std::size_t i = 0; i < peers_before.size(); ++i)
    CHECK(got(farm.office.book->peers())[i].tips == peers_before[i].tips);

  on_disk->open();  // The page again, over what was stored.
  CHECK(on_disk->book->kind_of(unsaved).empty());
  const Id after = add(*on_disk->book, "rig", {text_field_value("name", "Next morning")});
  CHECK(on_disk->book->copy() != saved_last);
  exchange(*on_disk, farm.office);
  CHECK(agree(*on_disk, farm.office));
  CHECK(text_of(*on_disk->book, unsaved, "name") == "Only in memory");
  CHECK(text_of(*farm.office.book, after, "name") == "Next morning");
  CHECK(got(farm.office.book->check()).broken_chains.empty());
}

TEST_CASE("scenario 42: two copies hand out one code: shown with the copy's characters, ids decide") {
  Farm2 farm;
  const Id theirs = add(*farm.office.book, "brew", {number_value("number", "31"), quantity_value("fill", "20 gal")});
  exchange(farm.ana.copy, farm.office);
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    const Codes codes = got(Codes::read(*copy->book));
    CHECK(codes.text(farm.brew) == "31");
    CHECK(codes.text(theirs) == "31 " + short_code(farm.office.book->copy()));
    CHECK(got(codes.find("brew", "31")) == farm.brew);
    CHECK(got(codes.find("brew", codes.text(theirs))) == theirs);
  }
  // A harvest code that people wrote twice: both stand, and are to be looked at.
  for (Copy* copy : {&farm.ana.copy, &farm.office})
    add(*copy->book, "harvest",
        {reference_value("bed", farm.ana.beds[0]), text_field_value("code", "AR-134-N1"),
         quantity_value("amount", "18 lb"), instant_value("at", at("2026-05-20T07:20:00-04:00"))});
  exchange(farm.ana.copy, farm.office);
  CHECK(got(farm.book().records("harvest")).size() == 2);
  CHECK(reviews(farm.book(), "finding.code-twice") >= 1);
  CHECK(farm.both_agree());
}

TEST_CASE("only what another copy lacks: under a number of ours that it has otherwise it acknowledges nothing") {
  Farm2 farm;
  Book::Peer twin;
  twin.copy = farm.office.book->copy();
  twin.tips = tips_of(farm.book());
  const auto lacking = [&] {
    REQUIRE(farm.book().note_peer(twin));
    GiveRequest request;
    request.lacking_at = twin.copy;
    return got(give(farm.book(), request)).changes;
  };
  CHECK(lacking() == 0);
  for (ChangeRef& tip : twin.tips) tip.tag ^= 1;  // Lines of another branch under the same numbers.
  CHECK(lacking() == farm.book().change_count());
}
