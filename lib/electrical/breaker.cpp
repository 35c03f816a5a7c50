#include "electrical/breaker.hpp"

#include <limits>

namespace linewright::electrical {
namespace {

constexpr Time never{std::numeric_limits<double>::infinity()};

struct Edges {
  double lower;
  double upper;
  double seconds_at_lower;  ///< up to 32 A
};

constexpr Edges edges(Characteristic characteristic) {
  switch (characteristic) {
    case Characteristic::b:
      return {3.0, 5.0, 45.0};
    case Characteristic::c:
      return {5.0, 10.0, 15.0};
    case Characteristic::d:
      break;
  }
  return {10.0, 20.0, 4.0};
}

}  // namespace

Bounds<Current> instantaneous_band(Characteristic characteristic, Current rated) {
  const Edges e = edges(characteristic);
  return {e.lower * rated, e.upper * rated};
}

Result<Bounds<Time>> breaker_time(Characteristic characteristic, Current rated, Current fault) {
  const double in = rated.in(unit::ampere);
  if (!(in > 0.0 && in <= 125.0)) return fail("IEC 60898-1 covers breakers of up to 125 A");
  if (!(fault.si >= 0.0)) return fail("a current is not below 0");
  const Edges e = edges(characteristic);
  // A current that was computed to be just the edge is the edge.
  const double multiple = fault / rated * (1.0 + 1e-9);
  const Time conventional = (in <= 63.0 ? 1.0 : 2.0) * unit::hour;
  const double slower = in <= 32.0 ? 1.0 : 2.0;

  Bounds<Time> time{{}, never};
  if (multiple >= 1.45) time.most = conventional;
  if (multiple >= 2.55) time.most = 60.0 * slower * unit::second;
  if (multiple >= e.lower) time.most = e.seconds_at_lower * slower * unit::second;
  if (multiple >= e.upper) time.most = 0.1 * unit::second;

  if (fault <= e.lower * rated) time.least = 0.1 * unit::second;
  if (fault <= 2.55 * rated) time.least = 1.0 * unit::second;
  if (fault <= 1.13 * rated) time.least = conventional;
  return time;
}

}  // namespace linewright::electrical
