#include <string>

#include <catch2/catch.hpp>

#include "linewright.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

/// The line of the summary that names the circuit.
std::string line_of(const std::string& circuit, std::string_view yaml) {
  const Result<std::string> text = describe_site(site_from(yaml));
  REQUIRE(text);
  const std::size_t at = text->find(circuit);
  REQUIRE(at != std::string::npos);
  return text->substr(at, text->find('\n', at) - at);
}

constexpr std::string_view site = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 5 m]
    service: backup
    circuits:
      - {name: Lamp, device: B6 1P+N, cable: 3×1.5 mm² 9 m}
      - {name: Oven, device: B16 1P+N, cable: 3×2.5 mm² 9 m, service: direct}
  +A2:
    feed: [A1, -W2 3×6 mm² 5 m]
    circuits:
      - {name: Pump, device: B16 1P+N, cable: 3×2.5 mm² 9 m}
states:
  grid: {}
)";

}  // namespace

TEST_CASE("summary: a circuit has its board's service unless it has one of its own") {
  CHECK(line_of("Lamp", site).ends_with("backup"));
  CHECK(line_of("Oven", site).ends_with("direct"));
  CHECK(line_of("Pump", site).ends_with("?"));
}

}  // namespace linewright::tests
