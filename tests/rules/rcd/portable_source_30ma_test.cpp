#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule portable_source_30ma;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(std::string_view yaml) {
  return verdicts(rules::portable_source_30ma, yaml);
}

std::string house(const std::string& fixed, const std::string& device,
                  const std::string& use = "fixed") {
  return R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {neutral: linked, winding: line-neutral, own rcd: no, fixed: )" +
         fixed + R"(}
panel:
  id: +A2
  interior: generator inlet
  grid: [A1, -W2 3×10 mm² 5 m]
  generator: [-G1, -W3 3×6 mm² 5 m]
  inlet: 32 A
  changeover: 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Heater, device: )" +
         device + ", cable: 3×2.5 mm² 9 m, dwelling: no, use: " + use + "}\n";
}

TEST_CASE("portable set: a fixed heater on a plain breaker is broken at the set") {
  const auto all = ask(house("no", "B16 1P+N"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-G1", "generator"));
}

TEST_CASE("portable set: 30 mA holds, more or delayed does not") {
  CHECK(sound(ask(house("no", "B16 1P+N 30 mA type A"))));
  CHECK(broken_ones(ask(house("no", "B16 1P+N 31 mA type A"))).size() == 1);
  CHECK(broken_ones(ask(house("no", "B16 1P+N 30 mA type A S"))).size() == 1);
}

TEST_CASE("portable set: an RCD of unknown rating is open, not a pass") {
  CHECK(open_ones(ask(house("no", "RCBO B16 1P+N type A"))).size() == 1);
}

TEST_CASE("portable set: sockets are left to the rules on additional protection") {
  CHECK(sound(ask(house("no", "B16 1P+N", "sockets"))));
}

TEST_CASE("portable set: an item protected by separation needs none") {
  CHECK(sound(ask(house("no", "B16 1P+N", "separated"))));
}

TEST_CASE("portable set: a fixed set is not asked") {
  CHECK(silent(ask(house("yes", "B16 1P+N"))));
}

}  // namespace
}  // namespace linewright::tests
