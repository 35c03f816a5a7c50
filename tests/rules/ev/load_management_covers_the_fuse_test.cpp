#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule load_management_covers_the_fuse;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::load_management_covers_the_fuse, yaml, profile);
}

constexpr std::string_view house = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -P1 meter two-way, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW, charging: {points: 1, managed by: -P1, on loss: minimum}}
      - {id: -F2, name: Cooker, device: B40 2P 30 mA type A, cable: 3×10 mm² 8 m, use: cooking, load: 9 kW}
states:
  grid: {}
)";

std::string site_with(std::string_view charging) {
  return with(house, "managed by: -P1, on loss: minimum", charging);
}

TEST_CASE("main fuse: managed by the meter at the connection it holds") {
  CHECK(sound(judged(site_with("managed by: -P1, on loss: minimum"))));
  CHECK(sound(judged(site_with("managed by: -P1, on loss: off"))));
}

TEST_CASE("main fuse: more demand than the fuse and no management is found") {
  // (7.4 kW + 9 kW) / 230 V = 71.3 A.
  const auto all = judged(rules::load_management_covers_the_fuse.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "nothing holds back 'Car', demand is 71.3 A on a fuse of 63 A");
}

TEST_CASE("main fuse: demand up to the fuse needs no management") {
  // 7.4 kW + 7.09 kW = 14.49 kW, 63 A at 230 V; 10 W more are too much.
  const auto unmanaged = site_with("managed by: no");
  CHECK(sound(judged(with(unmanaged, "load: 9 kW", "load: 7.09 kW"))));
  CHECK(broken_ones(judged(with(unmanaged, "load: 9 kW", "load: 7.1 kW"))).size() == 1);
}

TEST_CASE("main fuse: diversity counts, and so does each phase by itself") {
  const auto unmanaged = site_with("managed by: no");
  CHECK(sound(judged(with(unmanaged, "load: 9 kW", "load: 9 kW, diversity: 50 %"))));
  const auto three = with(
      with(with(with(with(unmanaged, "1/N/PE 230 V", "3/N/PE 230/400 V"), "3×16 mm²", "5×16 mm²"),
                "63 A 2P", "63 A 4P"),
           "use: EV", "phase: L1, use: EV"),
      "use: cooking", "phase: L2, use: cooking");
  CHECK(sound(judged(three)));
  CHECK(broken_ones(judged(with(three, "phase: L2", "phase: L1"))).size() == 1);
}

TEST_CASE("main fuse: management that charges on without its meter is none") {
  const auto all = judged(site_with("managed by: -P1, on loss: goes on"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-E1");
}

TEST_CASE("main fuse: a meter that sees only the car does not keep the fuse") {
  const auto own =
      with(site_with("managed by: -P3, on loss: minimum"), "device: C40 2P 30 mA type B 6 kA,",
           "device: [-F1 C40 2P 30 mA type B 6 kA, -P3 meter],");
  const auto all = judged(with(own, "{id: -F1, name: Car", "{name: Car"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "meter '-P3' does not see 'Cooker', demand is 71.3 A on a fuse of 63 A");
}

TEST_CASE("main fuse: fuse, loads and management that are not given are open") {
  CHECK(
      open_ones(judged(with(site_with("managed by: no"), ", fuse: 63 A gG", ""))).front().missing ==
      "'fuse' of 'supply'");
  CHECK(open_ones(judged(with(site_with("managed by: no"), ", load: 9 kW", ""))).front().missing ==
        "'load' of 'Cooker'");
  CHECK(open_ones(judged(site_with("gives back: no"))).front().missing ==
        "'managed by' under 'charging' of 'Car'");
  CHECK(open_ones(judged(site_with("managed by: -P1"))).front().missing ==
        "'on loss' under 'charging' of 'Car'");
  CHECK(open_ones(judged(site_with("managed by: -P8, on loss: off"))).size() == 1);
}

TEST_CASE("main fuse: a house without a car is not asked") {
  CHECK(silent(judged(with(site_with("managed by: no"),
                           "use: EV, load: 7.4 kW, charging: {points: 1, managed by: no}",
                           "use: fixed, load: 7.4 kW"))));
}

}  // namespace
}  // namespace linewright::tests
