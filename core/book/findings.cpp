// Checks that run after every write and every take, over what was touched and what hangs together with it.
#include <optional>

#include "book/check_scope.h"
#include "book/checker.h"
#include "book/checks.h"
#include "book/take_checks.h"

namespace steep {
namespace {

/// First what has to be looked at, then one record after the other.
class TradeChecks : public Checking {
 public:
  TradeChecks(const Book& book, Touched touched) : scope_(book, std::move(touched)), checker_(book) {}

  Result<bool> go_on() {
    if (!tasks_) {
      TRY_ASSIGN(const bool more, scope_.step());
      if (!more) plan();
      return true;
    }
    if (next_ == tasks_->size()) return false;
    const Task& task = (*tasks_)[next_++];
    TRY(check(task));
    return true;
  }

  bool step() override {
    const auto more = go_on();
    if (more && *more) return true;
    // A check that cannot be read hides nothing of the book: its findings stay away until the next write.
    if (more)
      findings = std::move(checker_.findings);
    else
      examined.clear();
    return false;
  }

  double share() const override {
    if (!tasks_) return scope_.share() / 2;
    return tasks_->empty() ? 1 : 0.5 + 0.5 * static_cast<double>(next_) / static_cast<double>(tasks_->size());
  }

 private:
  enum What { Pass, Loads, Dosed, Brew, Lot, Dose, Harvest, Sale };
  struct Task {
    What what;
    Id id;
  };

  void plan() {
    tasks_.emplace();
    const std::pair<What, const std::vector<Id>*> all[] = {
        {Pass, &scope_.passes}, {Loads, &scope_.loads}, {Dosed, &scope_.dosed},      {Brew, &scope_.brews},
        {Lot, &scope_.lots},    {Dose, &scope_.doses},  {Harvest, &scope_.harvests}, {Sale, &scope_.sales}};
    for (const auto& [what, ids] : all) {
      for (const Id& id : *ids) tasks_->push_back({what, id});
      examined.insert(examined.end(), ids->begin(), ids->end());
    }
  }

  Result<void> check(const Task& task) {
    switch (task.what) {
      case Pass: return checker_.check_pass(task.id);
      case Loads: return checker_.check_loads_beside(task.id, examined);
      case Dosed: return checker_.check_load(task.id);
      case Brew: return checker_.check_brew(task.id);
      case Lot: return checker_.check_lot(task.id);
      case Dose: return checker_.check_dose(task.id);
      case Harvest: return checker_.check_harvest(task.id);
      case Sale: return checker_.check_sale(task.id);
    }
    return {};
  }

  CheckScope scope_;
  Checker checker_;
  std::optional<std::vector<Task>> tasks_;
  std::size_t next_ = 0;
};

}  // namespace

std::unique_ptr<Checking> begin_checks(const Book& book, Touched touched) {
  return std::make_unique<TradeChecks>(book, std::move(touched));
}

}  // namespace steep
