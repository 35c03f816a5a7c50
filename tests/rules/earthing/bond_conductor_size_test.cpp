#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bond_conductor_size;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::bond_conductor_size, yaml, profile);
}

constexpr std::string_view linked = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A3, contact: yes, rest: open, closed in: [island], proved by: [-T1], size: 6 mm²,
          power contact: yes, withstands: 44 A for 1 s}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none, fault current: 44 A for 0.2 s}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3: {feed: [-T1:backup, -W3 3×6 mm² 3 m]}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE("size of the link: as large as the source's protective conductor, it holds") {
  CHECK(sound(judged(linked)));
}

TEST_CASE("size of the link: smaller than that it is found") {
  const auto all = judged(rules::bond_conductor_size.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "'-X5' is 1.5 mm², must be 6 mm² or more");
  CHECK(broken_ones(judged(with(linked, "size: 6 mm²", "size: 4 mm²"))).size() == 1);
}

TEST_CASE("size of the link: above 16 mm² of line 16 mm² do, above 35 mm² half of it") {
  // Table 54.2: S <= 16: S; 16 < S <= 35: 16 mm²; S > 35: S / 2.
  const auto thick = [](std::string_view line, std::string_view link) {
    return judged(with(with(linked, "-W3 3×6 mm²", "-W3 " + std::string(line)), "size: 6 mm²",
                       "size: " + std::string(link)));
  };
  CHECK(sound(thick("3×25 mm²", "16 mm²")));
  CHECK(broken_ones(thick("3×25 mm²", "10 mm²")).size() == 1);
  CHECK(sound(thick("3×70 mm²", "35 mm²")));
  CHECK(broken_ones(thick("3×70 mm²", "25 mm²")).size() == 1);
}

TEST_CASE("size of the link: its contact carries what the inverter drives, to the ampere") {
  CHECK(sound(judged(linked)));  // 44 A against 44 A
  const auto all = judged(with(linked, "withstands: 44 A", "withstands: 43 A"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "'-X5' withstands 43 A, must be 44 A or more");
}

TEST_CASE("size of the link: a signal contact is never the link") {
  const auto all = judged(with(linked, "power contact: yes", "power contact: no"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-X5");
}

TEST_CASE("size of the link: what is not given is open, each by its key") {
  const auto missing = [](std::string_view find, std::string_view put) {
    const auto open = open_ones(judged(with(linked, find, put)));
    REQUIRE(open.size() == 1);
    return open.front().missing;
  };
  CHECK(missing("size: 6 mm²,", "") == "'size' of '-X5'");
  CHECK(missing("power contact: yes, ", "") == "'power contact' of '-X5'");
  CHECK(missing(", withstands: 44 A for 1 s", "") == "'withstands' of '-X5' (current for time)");
  CHECK(missing(", fault current: 44 A for 0.2 s", "") == "'fault current' of '-T1'");
  CHECK(missing("-W3 3×6 mm² 3 m", "-Q3 switch-disconnector 40 A 2P") ==
        "cross-section of the cable at '-T1'");
}

TEST_CASE("size of the link: a generator drives its rated current over its reactance") {
  // 6.9 kVA / 230 V = 30 A; 30 A / 0.15 = 200 A.
  const std::string_view site = R"(
earthing:
  electrodes: {-XE1: 20 ohm}
  links: {-X5: {at: A1, contact: yes, rest: closed, size: 6 mm², power contact: yes, withstands: 200 A for 1 s}}
generators:
  -G2: {system: 1/N/PE 230 V 50 Hz, power: 6.9 kVA, reactance: 0.15, neutral: floating, fixed: yes, own rcd: no}
boards:
  +A1: {feed: [-G2, -W1 3×6 mm² 5 m]}
states:
  generator: {running: [-G2]}
)";
  CHECK(sound(judged(site)));
  CHECK(broken_ones(judged(with(site, "200 A for", "199 A for"))).size() == 1);
  CHECK(open_ones(judged(with(site, "reactance: 0.15, ", ""))).size() == 1);
}

TEST_CASE("size of the link: a fixed link needs no contact, one that feeds nothing is not asked") {
  const auto fixed =
      with(with(linked, "contact: yes, rest: open, closed in: [island], proved by: [-T1], ", ""),
           "power contact: yes, withstands: 44 A for 1 s", "name: Link");
  CHECK(sound(judged(fixed)));
  CHECK(silent(judged(with(linked, "closed in: [island]", "closed in: [grid]"))));
}

}  // namespace
}  // namespace linewright::tests
