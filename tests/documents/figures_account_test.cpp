// How figures are printed: the worst state, what is missing, working on request, data for programs.
#include "documents/figures_account.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "figures_of_site.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

constexpr const char* two_circuits = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {main terminal: A1}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² Cu 10 m PVC carries 76 A]
    circuits:
      - {id: -F11, name: "Oven, =hot", device: B16 1P+N, cable: -W11 3×2.5 mm² Cu 20 m PVC carries 27 A, load: 3 kW}
      - {id: -F12, name: Pump, device: B16 1P+N, cable: -W12 3×2.5 mm² Cu 20 m PVC, load: 1 kW, use: motor}
)";

std::string printed(const FiguresOptions& options) {
  const Result<std::string> text = figures_of_site(site_from(two_circuits), options);
  REQUIRE(text.has_value());
  return *text;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("figures in words: a value stands with its limit, what is left, and the state") {
  // 3 kW / 230 V = 13.04 A, 16 A less that is 3 A.
  const std::string text = printed({});
  CHECK(has(text, "13 A"));
  CHECK(has(text, "3 A"));
  CHECK(has(text, "grid"));
}

TEST_CASE("figures in words: what is not known names key and element, and is no pass") {
  const std::string text = printed({});
  CHECK(
      has(text, "-W12, current (grid): not known, because 'power factor' of -E2 Pump is missing"));
  CHECK(has(text, "-W12, In ≤ Iz (grid): not known, because 'carries' of -W12 is missing"));
  CHECK_FALSE(has(text, "-W11, current (grid): not known"));
}

TEST_CASE(
    "figures in words: one cable shows its working, named with sign, without, or by circuit") {
  const std::string text = printed({.element = "-W11", .format = FiguresFormat::text});
  CHECK(has(text, "Iz = 27 A, as declared"));
  CHECK(has(text, "IEC 60364-4-43"));
  CHECK_FALSE(has(text, "-W12"));
  CHECK(text == printed({.element = "W11", .format = FiguresFormat::text}));
  const std::string circuit = printed({.element = "F11", .format = FiguresFormat::text});
  CHECK(has(circuit, "-W11"));
  CHECK(has(circuit, "3 kW at power factor 1 (none is given) / (1 × 230 V) = 13 A"));
  CHECK_FALSE(has(circuit, "-W12"));
}

TEST_CASE("figures in words: a name that is not there is an error") {
  CHECK_FALSE(
      figures_of_site(site_from(two_circuits), {.element = "W99", .format = FiguresFormat::text})
          .has_value());
}

TEST_CASE("figures as data: JSON holds each figure with numbers, and null for what is not known") {
  const auto json = nlohmann::json::parse(printed({.element = {}, .format = FiguresFormat::json}));
  bool known = false;
  bool unknown = false;
  for (const auto& one : json.at("figures")) {
    if (one.at("figure") != "Ib ≤ In") continue;
    if (one.at("subject") == "-W11") {
      known = true;
      CHECK(one.at("value").get<double>() == Approx(3000.0 / 230.0).epsilon(1e-5));
      CHECK(one.at("limit").get<double>() == Approx(16));
      CHECK(one.at("verdict") == "holds");
    }
    if (one.at("subject") == "-W12") {
      unknown = true;
      CHECK(one.at("value").is_null());
      CHECK(one.at("verdict") == "not known");
      CHECK(one.at("missing").at(0).at("key") == "power factor");
    }
  }
  CHECK((known && unknown));
}

TEST_CASE("figures as data: no cell of the CSV can be taken for a formula") {
  const std::string text = printed({.element = {}, .format = FiguresFormat::csv});
  CHECK(has(text, "\"element -E1 Oven, =hot\""));
  CHECK(text.find("\n=") == std::string::npos);
  CHECK(text.find(",-W") == std::string::npos);
  CHECK(text.find(",=") == std::string::npos);
  CHECK(text.find(",+") == std::string::npos);
}

}  // namespace linewright::tests
