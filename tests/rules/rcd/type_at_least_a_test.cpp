#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule type_at_least_a;
}

namespace linewright::tests {
namespace {

std::string house(const std::string& residual, const std::string& use) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Boiler, device: B16 1P+N )" +
         residual + ", cable: 3×2.5 mm² 20 m" + use + "}\nstates:\n  grid: {}\n";
}

std::vector<Verdict> ask(const std::string& yaml, std::string_view profile = {}) {
  return verdicts(rules::type_at_least_a, yaml, profile);
}

TEST_CASE("type at least A: A, F and B hold, AC ahead of sockets does not") {
  for (const char* type : {"A", "F", "B"}) {
    CAPTURE(type);
    CHECK(sound(ask(house("30 mA type " + std::string(type), ", use: sockets"))));
  }
  const auto all = ask(house("30 mA type AC", ", use: sockets"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1"));
  CHECK(broken_ones(all).front().message == "'-F1' is type AC, must be at least type A");
}

TEST_CASE(
    "type at least A: fixed equipment without converter may have AC, where the country lets") {
  const std::string heater = house("30 mA type AC", ", use: fixed, drive: no");
  CHECK(sound(ask(heater)));
  CHECK(sound(ask(heater, "GB")));
  CHECK(broken_ones(ask(heater, "DE")).size() == 1);
  CHECK(broken_ones(ask(heater, "AU")).size() == 1);
}

TEST_CASE("type at least A: a fixed load with a converter needs A") {
  CHECK(broken_ones(ask(house("30 mA type AC", ", use: motor, drive: yes"))).size() == 1);
}

TEST_CASE("type at least A: AC ahead of a load that may have a converter is open, not a pass") {
  const auto all = ask(house("30 mA type AC", ", use: motor"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "fed through a converter (drive) of 'Boiler'");
}

TEST_CASE("type at least A: a type not given is open, not a pass") {
  const auto all = ask(house("30 mA", ", use: sockets"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "residual type of '-F1' (device: … type A)");
}

TEST_CASE("type at least A: AC at the incomer is found though the circuits have A") {
  const auto all = ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F9 RCD 63 A 2P 300 mA type AC S]
    circuits:
      - {id: -F1, name: Car, device: C32 2P 30 mA type A, cable: 3×6 mm² 20 m, use: EV, dc detection: yes}
states:
  grid: {}
)");
  CHECK(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F9"));
  CHECK(says(all, Outcome::holds, "-F1"));
}

TEST_CASE("type at least A: the device nearest to an EV point is told by the rule on EV points") {
  CHECK(silent(ask(house("30 mA type AC", ", use: EV, dc detection: yes"))));
}

TEST_CASE("type at least A: shared by an EV point and sockets, the type AC is told here") {
  const auto all = ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F9 RCD 63 A 2P 30 mA type AC]
    circuits:
      - {id: -F1, name: Car, device: C32 2P, cable: 3×6 mm² 20 m, use: EV, dc detection: yes}
      - {id: -F2, name: Sockets, device: B16 2P, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)");
  CHECK(says(all, Outcome::broken, "-F9"));
}

}  // namespace
}  // namespace linewright::tests
