#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule isolating_device_not_only_contactor;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::isolating_device_not_only_contactor;

std::string behind(std::string_view device) {
  return with(rule.example, "-W1 3×16 mm² 3 m, ",
              "-W1 3×16 mm² 3 m, " + std::string(device) + ", ");
}

TEST_CASE("isolating device: a lockable isolator ahead of the contactor holds") {
  CHECK(sound(verdicts(rule, behind("-Q10 switch-disconnector 63 A 2P isolating lockable"))));
}

TEST_CASE("isolating device: a contactor alone is a breach, at the source it leaves alive") {
  const auto bare = broken_ones(verdicts(rule, rule.example));
  REQUIRE(bare.size() == 1);
  CHECK(bare[0].element == "-X0");
}

TEST_CASE("isolating device: one that cannot be locked, or does not isolate, does not count") {
  CHECK(broken_ones(verdicts(rule, behind("{id: -Q10, device: switch-disconnector 63 A 2P, "
                                          "isolating: yes, lockable: no}")))
            .size() == 1);
}

TEST_CASE("isolating device: whether a switch isolates and locks is asked by its keys") {
  const auto open = open_ones(verdicts(rule, behind("-Q10 switch-disconnector 63 A 2P")));
  REQUIRE(open.size() == 1);
  CHECK(open[0].missing == "'isolating' and 'lockable' of '-Q10'");
}

TEST_CASE("isolating device: where nothing at all is drawn the isolator is asked for") {
  const auto open = open_ones(
      verdicts(rule, with(with(rule.example, ", -Q1 contactor 63 A 2P", ""), "-Q1: closed", "")));
  REQUIRE(open.size() == 1);
  CHECK(open[0].missing == "a device 'isolating lockable' behind the supply");
}

TEST_CASE("isolating device: behind the contactor it leaves the contactor itself alive") {
  const std::string two = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: no}
boards:
  +A1: {feed: [supply, -Q1 contactor 63 A 2P, -Q11 switch-disconnector 63 A 2P isolating lockable]}
chains:
  - [-G2, -W2 3×6 mm² 9 m, -X1 inlet 32 A, -Q2 contactor 63 A 2P, A1]
states:
  grid: {-Q1: closed}
  generator: {-Q2: closed}
)";
  const auto broken = broken_ones(verdicts(rule, two));
  REQUIRE(broken.size() == 1);  // the set is unplugged
  CHECK(broken[0].element == "-X0");
}

TEST_CASE("isolating device: a plug that is pulled isolates a portable set") {
  CHECK(sound(verdicts(rule, R"(
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: no}
boards:
  +A1:
    feed: [-G2, -W2 3×6 mm² 9 m, -X1 inlet 32 A]
    circuits:
      - {name: Heater, device: C16 1P+N, cable: 3×2.5 mm² 9 m, use: fixed}
states:
  generator: {running: [-G2]}
)")));
}

}  // namespace
}  // namespace linewright::tests
