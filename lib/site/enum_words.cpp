#include "site/enum_words.hpp"

#include <array>

namespace linewright::site {
namespace {

// The words stand in the order of the enumerators; `Last` makes a list that lacks one fail to
// compile.
template <auto Last, std::size_t N>
constexpr std::string_view pick(const std::array<std::string_view, N>& words, decltype(Last) of) {
  static_assert(N == static_cast<std::size_t>(Last) + 1);
  return words.at(static_cast<std::size_t>(of));
}

}  // namespace

std::string_view word(Assembly::Kind kind) {
  return pick<Assembly::Kind::converter>(
      std::array<std::string_view, 4>{"board", "transfer panel", "combiner", "converter"}, kind);
}
std::string_view word(BondContact contact) {
  return pick<BondContact::stays_open>(
      std::array<std::string_view, 4>{"none", "closes in island", "always closed", "stays open"},
      contact);
}
std::string_view word(DcEarthing earthing) {
  return pick<DcEarthing::earthed>(std::array<std::string_view, 2>{"floating", "earthed"},
                                   earthing);
}
std::string_view word(DeviceKind kind) {
  return pick<DeviceKind::link>(
      std::array<std::string_view, 10>{"breaker", "RCD", "RCBO", "fuse", "switch-disconnector",
                                       "disconnector", "fuse-switch", "contactor", "changeover",
                                       "link"},
      kind);
}
std::string_view word(Earthing earthing) {
  return mark(earthing);
}
std::string_view word(FeedDirection direction) {
  return pick<FeedDirection::two_way>(std::array<std::string_view, 2>{"one-way", "two-way"},
                                      direction);
}
std::string_view word(Forming forming) {
  return pick<Forming::grid_following>(std::array<std::string_view, 2>{"forming", "following"},
                                       forming);
}
std::string_view word(GivesBack gives) {
  return pick<GivesBack::socket>(std::array<std::string_view, 4>{"no", "home", "grid", "socket"},
                                 gives);
}
std::string_view word(InsulationMonitor monitor) {
  return pick<InsulationMonitor::with_alarm>(
      std::array<std::string_view, 3>{"none", "without alarm", "with alarm"}, monitor);
}
std::string_view word(InterlockMeans means) {
  return pick<InterlockMeans::unknown>(
      std::array<std::string_view, 5>{"mechanical", "key", "electrical", "control", "not said"},
      means);
}
std::string_view word(IslandCharging charging) {
  return pick<IslandCharging::goes_on>(
      std::array<std::string_view, 3>{"off", "held back", "goes on"}, charging);
}
std::string_view word(IslandNeutral neutral) {
  return pick<IslandNeutral::joined>(std::array<std::string_view, 2>{"opened", "joined"}, neutral);
}
std::string_view word(LossOfMeter loss) {
  return pick<LossOfMeter::goes_on>(std::array<std::string_view, 3>{"off", "minimum", "goes on"},
                                    loss);
}
std::string_view word(NeutralLink link) {
  return pick<NeutralLink::fixed>(std::array<std::string_view, 2>{"not linked", "linked"}, link);
}
std::string_view word(NeutralTiming timing) {
  return pick<NeutralTiming::separate>(
      std::array<std::string_view, 3>{"simultaneous", "early make, late break", "separate"},
      timing);
}
std::string_view word(Operation operation) {
  return pick<Operation::both>(
      std::array<std::string_view, 3>{"by hand", "by a controller", "by hand and controller"},
      operation);
}
std::string_view word(PaperSize size) {
  return pick<PaperSize::a3>(std::array<std::string_view, 2>{"A4", "A3"}, size);
}
std::string_view word(PaperTurn turn) {
  return pick<PaperTurn::portrait>(std::array<std::string_view, 2>{"landscape", "portrait"}, turn);
}
std::string_view word(ParallelRun run) {
  return pick<ParallelRun::as_agreed>(
      std::array<std::string_view, 3>{"never", "while it takes over", "as agreed"}, run);
}
std::string_view word(PenDetection detection) {
  return pick<PenDetection::opens_live_and_earth>(
      std::array<std::string_view, 3>{"none", "opens live conductors",
                                      "opens live conductors and earth"},
      detection);
}
std::string_view word(ResidualDelay delay) {
  return pick<ResidualDelay::selective>(std::array<std::string_view, 2>{"general", "selective"},
                                        delay);
}
std::string_view word(ResidualType type) {
  return pick<ResidualType::b>(std::array<std::string_view, 4>{"AC", "A", "F", "B"}, type);
}
std::string_view word(Rotation rotation) {
  return pick<Rotation::anticlockwise>(
      std::array<std::string_view, 2>{"clockwise", "anticlockwise"}, rotation);
}
std::string_view word(Separation separation) {
  return pick<Separation::transformer>(
      std::array<std::string_view, 3>{"none", "simple", "transformer"}, separation);
}
std::string_view word(Service service) {
  return pick<Service::direct>(std::array<std::string_view, 3>{"backup", "normal", "direct"},
                               service);
}
std::string_view word(StateKind kind) {
  return pick<StateKind::other>(
      std::array<std::string_view, 6>{"grid", "island", "generator", "bypass", "off", "other"},
      kind);
}
std::string_view word(Use use) {
  return pick<Use::separated>(
      std::array<std::string_view, 12>{"not said", "sockets", "lighting", "fixed", "outdoors",
                                       "bathroom", "EV", "heat pump", "cooking", "motor", "network",
                                       "separated"},
      use);
}
std::string_view word(Winding winding) {
  return pick<Winding::centre_tapped>(
      std::array<std::string_view, 2>{"line-neutral", "centre-tapped"}, winding);
}

}  // namespace linewright::site
