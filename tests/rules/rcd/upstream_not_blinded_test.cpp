#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule upstream_not_blinded;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(std::string_view yaml) {
  return verdicts(rules::upstream_not_blinded, yaml);
}

std::string house(const std::string& upper, const std::string& lower, const std::string& keys) {
  return R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 300 mA )" +
         upper + R"( S]
    circuits:
      - {id: -F1, name: Car, device: C32 2P 30 mA )" +
         lower + ", cable: 3×6 mm² 12 m, " + keys + R"(}
states:
  grid: {}
)";
}

TEST_CASE("upstream RCD: type B above type B is sound, type A or F is blinded") {
  CHECK(sound(ask(house("type B", "type B", "use: EV"))));
  for (const char* upper : {"type A", "type F", "type AC"}) {
    const auto all = ask(house(upper, "type B", "use: EV"));
    REQUIRE(broken_ones(all).size() == 1);
    CHECK(says(all, Outcome::broken, "-F10", "grid"));
    CHECK(broken_ones(all).front().message ==
          "direct current of 'Car' blinds '-F10', must be type B");
  }
}

TEST_CASE("upstream RCD: a point limited to 6 mA may stand below type A, not below type AC") {
  CHECK(sound(ask(house("type A", "type A", "use: EV, dc detection: yes"))));
  CHECK(broken_ones(ask(house("type AC", "type A", "use: EV, dc detection: yes"))).size() == 1);
}

TEST_CASE("upstream RCD: declared direct current up to 6 mA holds, more does not") {
  CHECK(sound(ask(house("type A", "type B", "use: fixed, dc leakage: 6 mA"))));
  CHECK(broken_ones(ask(house("type A", "type B", "use: fixed, dc leakage: 6.1 mA"))).size() == 1);
}

TEST_CASE("upstream RCD: of unknown type it is open, not a pass") {
  const auto open = open_ones(ask(house("", "type B", "use: EV")));
  REQUIRE(open.size() == 1);
  CHECK(open.front().missing == "residual type of '-F10' (device: … type B)");
}

TEST_CASE("upstream RCD: below type A a plain type A circuit is not asked") {
  CHECK(silent(ask(house("type A", "type A", "use: sockets"))));
}

TEST_CASE("upstream RCD: a type B beside the circuit is not above it") {
  CHECK(silent(ask(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m]
    circuits:
      - {name: Car, device: C32 2P 30 mA type B, cable: 3×6 mm² 12 m, use: EV}
      - {name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 12 m, use: sockets}
states:
  grid: {}
)")));
}

TEST_CASE("upstream RCD: the last one is asked where the maker says more than 6 mA") {
  const auto all = ask(house("type B", "type A", "use: heat pump, rcd type: B"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-F1");
}

}  // namespace
}  // namespace linewright::tests
