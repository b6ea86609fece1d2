#pragma once
/// What did this touch, and what went into it? From any lot, brew, load, bed or harvest both ways.
///
/// Every bed of a mixed load counts as touched, whatever its share was, and so does the bed, or every bed of the block,
/// on which something was poured out. A dose whose finish nobody knows may have come before any picking since the
/// earliest time that its entry names. Struck entries are left out; entries in question are in.

#include <string>
#include <vector>

#include "book/book.h"

namespace steep {

enum class TraceStage { Lot, Brew, Load, Dose, Harvest, Poured };

struct TraceNode {
  TraceStage stage = TraceStage::Lot;
  Id record;
  std::string name;  ///< 'Worm compost W-14', '31', 'N7'; of Poured where: 'N20', 'compost pile', 'N20, lane end'.
  Id bed;            ///< Of Dose and Harvest.
  Id place;          ///< Of Poured: the bed, block or heap; nil where only words say where.
  double from_m = 0, to_m = 0;  ///< Of Dose: the stretch, metres from the zero end.
  Moment at;                    ///< 0 when not known.
};
struct TraceLink {
  Id from, to;
};

struct Trace {
  Id start;
  bool forward = true;
  std::vector<TraceNode> nodes;  ///< By stage, then time. The start is among them.
  std::vector<TraceLink> links;
};

/// Forward: where it went. Backward: where it came from. A bed starts at its doses, harvests and what was poured there.
/// Trouble::NotFound "trace.not-here" for a record that is not here or of a kind that nothing hangs on.
Result<Trace> trace_forward(const Book& book, const Id& start);
Result<Trace> trace_backward(const Book& book, const Id& start);

}  // namespace steep
