#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule parallel_neutral_path;
}

namespace linewright::tests {
namespace {

/// Two ways to one changeover; its poles decide whether the neutrals meet.
std::string house(const std::string& poles, const std::string& second_way = "-W4 3×10 mm² 2 m",
                  const std::string& first_device = "-Q2 switch-disconnector 63 A 2P") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-Q3, -W5 3×10 mm² 2 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
devices:
  -Q3: changeover I-0-II 63 A )" +
         poles + R"(
chains:
  - [A1, )" +
         first_device + R"(, -W3 3×10 mm² 2 m, -Q3:I]
  - [A1, )" +
         second_way + R"(, -Q3:II]
states:
  grid: {-Q3: I}
  bypass: {-Q3: II}
)";
}

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::parallel_neutral_path, yaml);
}

TEST_CASE("parallel neutral: with the neutral switched there is one way in each state") {
  CHECK(sound(ask(house("2P"))));
}

TEST_CASE("parallel neutral: a changeover that leaves N joined closes a ring in every position") {
  const auto all = ask(house("1P"));
  CHECK(states_with(all, Outcome::broken) == "grid bypass");
  const Verdict verdict = broken_ones(all).front();
  CHECK(verdict.element == "+A2");
  std::string named;
  for (const Note& note : verdict.notes)
    named += note.text + "\n";
  CHECK(named.find("'-W3'") != std::string::npos);
  CHECK(named.find("'-W4'") != std::string::npos);
}

TEST_CASE("parallel neutral: an RCD in one of the ways is named, as current returns around it") {
  const auto broken =
      broken_ones(ask(house("1P", "-W4 3×10 mm² 2 m", "-F2 RCD 63 A 2P 30 mA type A")));
  REQUIRE_FALSE(broken.empty());
  std::string named;
  for (const Note& note : broken.front().notes)
    named += note.text + "\n";
  CHECK(named.find("current returns around '-F2'") != std::string::npos);
}

TEST_CASE("parallel neutral: one neutral left out of the second way makes it sound") {
  CHECK(sound(ask(house("1P", "-W4 2×10 mm² (L1 PE) 2 m"))));
}

TEST_CASE("parallel neutral: a second way that stands open with its neutral is no second way") {
  CHECK(sound(ask(house("1P",
                        "-Q4 switch-disconnector 63 A 2P normally open, "
                        "-W4 3×10 mm² 2 m"))));
}

TEST_CASE("parallel neutral: lines on two ways whose neutral takes one of them are broken") {
  const std::string two = R"(site: {name: Two cables}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
chains:
  - [A1, -W3 3×10 mm² 2 m, A2]
  - [A1, -W4 2×10 mm² (L1 PE) 2 m, A2]
states:
  grid: {}
)";
  const auto broken = broken_ones(ask(two));
  REQUIRE(broken.size() == 1);
  CHECK(broken.front().element == "+A2");
  REQUIRE(broken.front().notes.size() == 1);
  CHECK(broken.front().notes.front().text == "'-W4' carries lines whose N is not on that way");
  CHECK(sound(ask(with(two, "2×10 mm² (L1 PE)", "3×10 mm²"))));
}

TEST_CASE("parallel neutral: two cables in parallel with line and neutral each are sound") {
  CHECK(sound(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [-WB1, -W4 3×10 mm² 2 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
busbars: {-WB1: 63 A}
chains:
  - [supply, -W1 3×10 mm² 3 m, -WB1]
  - [supply, -W2 3×10 mm² 3 m, -WB1]
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
