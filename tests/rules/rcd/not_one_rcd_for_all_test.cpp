#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule not_one_rcd_for_all;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml, std::string_view profile = {}) {
  return verdicts(rules::not_one_rcd_for_all, yaml, profile);
}

std::string house(const std::string& groups) {
  return "site: {name: House}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\nboards:\n"
         "  +A1:\n    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]\n"
         "    circuits:\n" +
         groups + "states:\n  grid: {}\n";
}

std::string group(const std::string& device, const std::string& uses) {
  std::string text = "      - group: " + device + " RCD 40 A 2P 30 mA type A\n        circuits:\n";
  std::string use;
  for (const char c : uses + " ") {
    if (c != ' ') {
      use += c;
      continue;
    }
    text += "          - {device: B10 1P+N, cable: 3×1.5 mm² 9 m, use: " + use + "}\n";
    use.clear();
  }
  return text;
}

TEST_CASE("not one RCD for all: light and sockets divided over two are sound") {
  CHECK(sound(ask(house(group("-F10", "lighting sockets") + group("-F20", "lighting sockets")))));
}

TEST_CASE("not one RCD for all: all the lighting together with sockets is not") {
  const auto all = ask(house(group("-F10", "lighting sockets") + group("-F20", "fixed fixed")));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10"));
  CHECK(broken_ones(all).front().message == "'-F10' guards all the lighting together with sockets");
}

TEST_CASE("not one RCD for all: one that guards every circuit is not, from three circuits on") {
  CHECK(sound(ask(house(group("-F10", "fixed sockets")))));
  const auto all = ask(house(group("-F10", "fixed sockets fixed")));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "'-F10' alone guards all 3 circuits");
}

TEST_CASE("not one RCD for all: the country's number, each side of it") {
  const std::string rest = group("-F20", "lighting");
  const std::string three = house(group("-F10", "sockets sockets sockets") + rest);
  const std::string four = house(group("-F10", "sockets sockets sockets sockets") + rest);
  CHECK(sound(ask(three, "AU")));
  const auto all = ask(four, "AU");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'-F10' guards 4 circuits of a home, must be 3 or fewer");
  CHECK(sound(ask(four)));  // no number internationally
  const std::string eight = "fixed fixed fixed fixed fixed fixed fixed fixed";
  CHECK(sound(ask(house(group("-F10", eight) + rest), "FR")));
  CHECK(broken_ones(ask(house(group("-F10", eight + " fixed") + rest), "FR")).size() == 1);
}

TEST_CASE("not one RCD for all: a number that is only advised gives advice") {
  const auto all = ask(
      house(group("-F10", "fixed fixed fixed fixed fixed fixed fixed") + group("-F20", "lighting")),
      "DE");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::advice);
}

TEST_CASE("not one RCD for all: circuits that are not said to be lighting are not taken for it") {
  CHECK(sound(ask(house(group("-F10", "fixed sockets") + group("-F20", "cooking")))));
}

TEST_CASE("not one RCD for all: what must stay alive wants an RCD of its own") {
  const std::string yaml = with(house(group("-F10", "fixed sockets") + group("-F20", "cooking")),
                                "use: fixed", "name: Freezer, use: fixed, priority: must");
  const auto all = ask(yaml);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::advice);
}

TEST_CASE("not one RCD for all: an incomer above RCDs of the circuits does not count") {
  CHECK(sound(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 300 mA type A S]
    circuits:
      - {id: -F1, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
      - {id: -F2, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
      - {id: -F3, device: B6 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
