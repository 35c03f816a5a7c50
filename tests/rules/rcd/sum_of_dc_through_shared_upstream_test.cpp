#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule sum_of_dc_through_shared_upstream;
}

namespace linewright::tests {
namespace {

std::string chargers(const std::string& upper, const std::string& left, const std::string& right) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 80 A 2P 300 mA )" +
         upper + R"( S]
    circuits:
      - {id: -F1, name: Left, device: C32 2P 30 mA type A, cable: 3×6 mm² 12 m, )" +
         left + R"(}
      - {id: -F2, name: Right, device: C32 2P 30 mA type A, cable: 3×6 mm² 12 m, )" +
         right + "}\nstates:\n  grid: {}\n";
}

const std::string car = "use: EV, dc detection: yes";

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::sum_of_dc_through_shared_upstream, yaml);
}

TEST_CASE("sum of direct current: one charge point of 6 mA may stand below type A, two may not") {
  CHECK(sound(ask(chargers("type A", car, "use: sockets"))));
  const auto all = ask(chargers("type A", car, car));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  // 2 × 6 mA = 12 mA
  CHECK(broken_ones(all).front().message ==
        "2 circuits may send 12 mA DC through '-F10', must be 6 mA");
  CHECK(broken_ones(all).front().notes.size() == 2);
}

TEST_CASE("sum of direct current: declared 3 + 3 mA hold below type A, 3 + 3.1 mA do not") {
  const std::string three = "use: fixed, dc leakage: 3 mA";
  CHECK(sound(ask(chargers("type A", three, three))));
  CHECK(broken_ones(ask(chargers("type A", three, "use: fixed, dc leakage: 3.1 mA"))).size() == 1);
}

TEST_CASE("sum of direct current: type F stands 10 mA, type B all of it") {
  CHECK(sound(ask(chargers("type F", car, "use: fixed, dc leakage: 4 mA"))));
  CHECK(broken_ones(ask(chargers("type F", car, "use: fixed, dc leakage: 4.1 mA"))).size() == 1);
  CHECK(sound(ask(chargers("type B", car, car))));
}

TEST_CASE("sum of direct current: two points on one circuit count twice") {
  CHECK(broken_ones(ask(chargers("type A", car + ", charging: {points: 2, each protected: yes}",
                                 "use: sockets")))
            .size() == 1);
}

TEST_CASE("sum of direct current: an RCD of unknown type is left open by the report") {
  const std::string yaml = chargers("", car, car);
  CHECK(silent(ask(yaml)));
  CHECK_FALSE(report_on(yaml).open.empty());
}

TEST_CASE("sum of direct current: points on RCDs side by side do not add up") {
  CHECK(silent(ask(with(chargers("type A", car, car), "-F10 RCD 80 A 2P 300 mA type A S",
                        "-Q1 switch-disconnector 80 A 2P"))));
}

}  // namespace
}  // namespace linewright::tests
