// What the proof says in words and as data, on a site small enough to count by hand.
#include <string>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "linewright.hpp"
#include "support/judge.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

const std::string two_contactors = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
boards:
  +A1:
    feed: [supply, -Q1 contactor 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
chains:
  - [-G2, -W2 3×6 mm² 9 m, -Q2 contactor 63 A 2P, A1]
states:
  grid: {-Q1: closed}
  generator: {-Q2: closed}
interlocks:
  - {never together: [-Q1, -Q2], by: mechanical}
)";

Proved proved(const std::string& yaml, const ProofOptions& options = {}) {
  const auto result = prove_site(site_from(yaml), options);
  REQUIRE(result.has_value());
  return *result;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// The part of the text on one device that stays where it is.
std::string of_failure(const std::string& text, const std::string& head) {
  const auto begin = text.find(head);
  REQUIRE(begin != std::string::npos);
  const auto end = text.find(" stays ", begin + head.size());
  return text.substr(begin, end == std::string::npos ? end : end - begin);
}

/// A generator behind a transformer that nothing keeps from the supply.
const std::string through_transformer = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
boards:
  +A1: {feed: [supply, -Q1 contactor 63 A 2P]}
chains:
  - [-G2, -F9 C20 2P, -T9 transformer 10 kVA 2P, -W9 3×6 mm² 4 m, A1]
states:
  grid: {}
)";

}  // namespace

TEST_CASE("certificate: a transformer leaves every hazard open, with the reason") {
  const Proved it = proved(through_transformer);
  CHECK_FALSE(it.safe);
  CHECK_FALSE(has(it.text, "  impossible"));
  CHECK_FALSE(has(it.text, "not relevant"));
  CHECK(has(it.text,
            "OPEN          the supply's side fed while it is dead\n"
            "    voltage passes -T9 both ways, and what lies behind it is not followed\n"));
  const auto json = nlohmann::json::parse(proved(through_transformer, {.json = true}).text);
  for (const auto& hazard : json["hazards"]) {
    CHECK(hazard["outcome"] == "open");
    CHECK(hazard["not_followed"] == nlohmann::json::array({"-T9"}));
  }
  CHECK_FALSE(has(proved(through_transformer, {.single_failure = true}).text,
                  "nothing that is not possible without it"));
}

TEST_CASE("certificate: situations are counted, and the proof names the lever it rests on") {
  const Proved it = proved(two_contactors);
  CHECK(it.safe);
  // Two contactors that never close together: 3. The circuit's device: 2. Each of two sources
  // runs or not: 4. 3 × 2 × 4 = 24.
  CHECK(has(it.text, "24 situations allowed"));
  CHECK(has(it.text,
            "impossible    two sources joined out of step\n"
            "    rests on the interlock, mechanical: -Q1 closed, -Q2 closed\n"));
}

TEST_CASE("certificate: without the lever it shows the fewest moves") {
  const std::string yaml =
      with(two_contactors, "interlocks:\n  - {never together: [-Q1, -Q2], by: mechanical}\n", "");
  const Proved it = proved(yaml);
  CHECK_FALSE(it.safe);
  // All of 2 × 2 × 2 × 4 now. From either state: close the other contactor, start its source.
  CHECK(has(it.text, "32 situations allowed"));
  CHECK(has(it.text, "POSSIBLE      two sources joined out of step\n"));
  CHECK(has(it.text, "'grid', then close -Q2 and start -G2\n"));
}

TEST_CASE("certificate: in one line the hazards are counted by what came of them") {
  // No circuit here is to be dead in an outage: one of the six hazards is not relevant.
  CHECK(positions_in_a_line(site_from(two_contactors)).value() ==
        "24 situations: 5 hazards impossible, 1 not relevant");
}

TEST_CASE("certificate: a lever stands against a welded contact, a wired interlock does not") {
  const std::string lever = single_failures_of_site(site_from(two_contactors)).value();
  const std::string harmless = "nothing that is not possible without it";
  CHECK(has(of_failure(lever, "-Q1 stays closed"), harmless));

  const std::string wired =
      single_failures_of_site(site_from(with(two_contactors, "by: mechanical", "by: electrical")))
          .value();
  CHECK(has(of_failure(wired, "-Q1 stays closed"), "POSSIBLE two sources joined out of step"));
  CHECK(has(of_failure(wired, "-Q1 stays open"), harmless));
  // A contactor that a hand never moves, and a breaker that only a hand or a fault does.
  CHECK_FALSE(has(wired, "-F1 stays"));
}

TEST_CASE("certificate: the same as data, single failures only if they are asked for") {
  const std::string wired = with(two_contactors, "by: mechanical", "by: electrical");
  const auto plain = nlohmann::json::parse(proved(wired, {.json = true}).text);
  CHECK(plain["situations"] == "24");
  CHECK(plain["hazards"].size() == 6);
  CHECK(plain["hazards"][0]["outcome"] == "impossible");
  CHECK(plain["hazards"][0]["rests_on"][0] == "electrical: -Q1 closed, -Q2 closed");
  CHECK_FALSE(plain.contains("single_failures"));

  const auto failed = nlohmann::json::parse(
      proved(wired, {.json = true, .single_failure = true}).text)["single_failures"];
  REQUIRE(failed.size() == 4);  // two contactors, two positions each
  CHECK(failed[1]["device"] == "-Q1");
  CHECK(failed[1]["stays"] == "closed");
  CHECK(failed[1]["makes_possible"][0]["hazard"] == "two sources joined out of step");
  CHECK(failed[0]["makes_possible"].empty());
}

}  // namespace linewright::tests
