#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule tt_resistance_product;
}

namespace linewright::tests {
namespace {

/// A TT house with its electrodes, an incomer RCD, and one circuit.
std::string house(const std::string& electrodes, const std::string& incomer,
                  const std::string& circuit = "B16 1P+N") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
)" + (electrodes.empty() ? std::string() : "earthing: {electrodes: {" + electrodes + "}}\n") +
         R"(boards:
  +A1:
    feed: [supply, -W1 2×16 mm² 3 m double insulated, -F9 RCD 63 A 2P )" +
         incomer + R"( type A S]
    circuits:
      - {id: -F1, name: Pump, device: )" +
         circuit + R"(, cable: 3×2.5 mm² 20 m, use: motor}
states:
  grid: {}
)";
}

std::vector<Verdict> ask(const std::string& yaml, std::string_view profile = {}) {
  return verdicts(rules::tt_resistance_product, yaml, profile);
}

TEST_CASE("TT product: 80 ohm and 100 mA are 8 V, far below 50 V") {
  CHECK(sound(ask(house("-XE1: 80 ohm", "100 mA"))));
}

TEST_CASE("TT product: the four pairs of the tables hold, an ohm more does not") {
  // 50 V / 30 mA = 1666.7 Ω, / 100 mA = 500 Ω, / 300 mA = 166.7 Ω, / 500 mA = 100 Ω
  const auto holds = [](const char* electrode, const char* residual) {
    return sound(ask(house(std::string("-XE1: ") + electrode, residual)));
  };
  CHECK(holds("1666 ohm", "30 mA"));
  CHECK_FALSE(holds("1667 ohm", "30 mA"));
  CHECK(holds("500 ohm", "100 mA"));
  CHECK_FALSE(holds("501 ohm", "100 mA"));
  CHECK(holds("166 ohm", "300 mA"));
  CHECK_FALSE(holds("167 ohm", "300 mA"));
  CHECK(holds("100 ohm", "500 mA"));
  CHECK_FALSE(holds("101 ohm", "500 mA"));
}

TEST_CASE("TT product: beyond the border the finding stands at the first RCD and shows the volts") {
  const auto all = ask(house("-XE1: 501 ohm", "100 mA"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F9", "grid"));
  CHECK(broken_ones(all).front().message == "RA × IΔn at '-F9' is 50.1 V, must be 50 V or less");
}

TEST_CASE("TT product: 30 mA further down does not excuse the incomer, which guards the tails") {
  CHECK(broken_ones(ask(house("-XE1: 501 ohm", "100 mA", "B16 1P+N 30 mA type A"))).size() == 1);
}

TEST_CASE("TT product: two poor electrodes in parallel are one good one") {
  // 600 Ω parallel to 600 Ω is 300 Ω; 300 Ω × 100 mA = 30 V
  CHECK(sound(ask(house("-XE1: 600 ohm, -XE2: 600 ohm", "100 mA"))));
}

TEST_CASE("TT product: an electrode that is missing or has no value is open, not a pass") {
  CHECK(open_ones(ask(house("", "100 mA"))).size() == 1);
  CHECK(open_ones(ask(house("-XE1: {}", "100 mA"))).size() == 1);
}

TEST_CASE("TT product: a second electrode of unknown value can only lower the resistance") {
  CHECK(sound(ask(house("-XE1: 80 ohm, -XE2: {}", "100 mA"))));
  CHECK(open_ones(ask(house("-XE1: 600 ohm, -XE2: {}", "100 mA"))).size() == 1);
}

TEST_CASE("TT product: a residual current that is not given is open, not a pass") {
  CHECK(open_ones(ask(house("-XE1: 80 ohm", ""))).size() == 1);
}

TEST_CASE("TT product: above a country's guide value it is advice, at it nothing") {
  CHECK(sound(ask(house("-XE1: 200 ohm", "30 mA"), "GB")));
  const auto all = ask(house("-XE1: 201 ohm", "30 mA"), "GB");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::advice);
  CHECK(says(all, Outcome::broken, "-XE1"));
}

TEST_CASE("TT product: an electrode on a TN supply is not asked") {
  std::string yaml = house("-XE1: 900 ohm", "100 mA");
  yaml.replace(yaml.find("earthing: TT"), 12, "earthing: TN-S");
  yaml.replace(yaml.find("2×16"), 5, "3×16");
  CHECK(silent(ask(yaml)));
}

}  // namespace
}  // namespace linewright::tests
