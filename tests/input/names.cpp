// Names that could be something else: a board and a breaker's rating, what drives a coil.
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "support/site_from.hpp"

using linewright::tests::mistakes_in;

namespace {

std::string two_boards(const std::string& lower, const std::string& chain) {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "boards:\n"
         "  +A1: {feed: [supply, -Q1 switch-disconnector 63 A 2P]}\n"
         "  +" +
         lower +
         ": {feed: [A1, -F1 C32 2P]}\n"
         "chains:\n"
         "  - " +
         chain + "\n";
}

std::string with_link(const std::string& driver) {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "earthing:\n"
         "  links:\n"
         "    -X5: {at: A1, contact: yes, proved by: [-Q1], driven by: " +
         driver +
         "}\n"
         "inverters:\n"
         "  -T1: {kind: battery, grid: forming, power: 5 kVA, bond: none}\n"
         "boards:\n"
         "  +A1: {feed: [supply, -Q1 contactor 63 A 2P]}\n"
         "chains:\n"
         "  - [-T1:ac, -F2 C32 2P, A1]\n";
}

}  // namespace

TEST_CASE("names: a board called as a breaker is rated has to be written with its sign") {
  for (const std::string name : {"B3", "C6", "D10", "K4", "Z2"}) {
    const std::string bare = "[" + name + ", -F9 C16 2P, -W9 3×4 mm² 9 m, -F10 C16 2P]";
    const std::string told = mistakes_in(two_boards(name, bare));
    CHECK(told.find(fmt::format("'{0}' is both the name of '+{0}' and the rating", name)) !=
          std::string::npos);
    CHECK(told.find("write '+" + name + "'") != std::string::npos);
    CHECK(mistakes_in(two_boards(name, "[+" + name + ", -F9 C16 2P, -F10 C16 2P]")) == "");
  }
  CHECK(mistakes_in(two_boards("A3", "[A3, -F9 C16 2P, -F10 C16 2P]")) == "");
}

TEST_CASE("names: a rating alone is a breaker where nothing bears its name") {
  CHECK(mistakes_in(two_boards("A3", "[A3, B16, -F10 C16 2P]")) == "");
}

TEST_CASE("names: a chain is joined to something at one end at least") {
  const std::string told =
      mistakes_in(two_boards("A3", "[-F7 C32 2P, -W7 3×6 mm² 3 m, -F8 C32 2P]"));
  CHECK(told.find("neither end of this chain is joined to anything") != std::string::npos);
  CHECK(mistakes_in(two_boards("A3", "[A3, -F7 C32 2P, -W7 3×6 mm² 3 m, -F8 C32 2P]")) == "");
  CHECK(mistakes_in(two_boards("A3",
                               "[-F7 C32 2P, -W7 3×6 mm² 3 m, -F8 C32 2P]\n"
                               "  - [A1, -W8 3×6 mm² 3 m, -F7]")) == "");
}

TEST_CASE("names: what drives the coil of a link is a source of the file") {
  CHECK(mistakes_in(with_link("-T1")) == "");
  CHECK(mistakes_in(with_link("T1")) == "");
  CHECK(mistakes_in(with_link("supply")) == "");
  const std::string unknown = mistakes_in(with_link("-T11"));
  CHECK(unknown.find("4:62+4 there is no element '-T11'") != std::string::npos);
  CHECK(unknown.find("'-T1'") != std::string::npos);
  CHECK(mistakes_in(with_link("-Q1")).find("'-Q1' is no source and drives no coil") !=
        std::string::npos);
  CHECK(mistakes_in(with_link("the inverter")).find("there is no element") != std::string::npos);
}

TEST_CASE("names: a device's coil is driven by what the file describes") {
  std::string site = two_boards("A3", "[A3, -F9 C16 2P, A1]");
  const std::string device = "-Q1 switch-disconnector 63 A 2P";
  site.replace(site.find(device), device.size(),
               "{id: -Q1, device: contactor 63 A 2P, driven by: -T9}");
  CHECK(mistakes_in(site).find("there is no element '-T9'") != std::string::npos);
}

TEST_CASE("names: no lever and no key reaches a contact inside an inverter") {
  const auto interlocked = [](const std::string& means) {
    return mistakes_in(R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
boards:
  +A1: {feed: [supply, -Q1 switch-disconnector 63 A 2P]}
  +A4: {feed: [-T1:backup, -Q4 switch-disconnector 63 A 2P]}
chains:
  - [A1, -F2 C32 2P, -T1:ac]
  - [A1, -Q5 switch-disconnector 63 A 2P normally open, A4]
interlocks:
  - {never together: [-T1:transfer: closed, -Q5: closed], by: )" +
                       means + "}\n");
  };
  for (const std::string means : {"mechanical", "key"})
    CHECK(interlocked(means).find("no lever and no key reaches the inner contact '-T1:transfer'") !=
          std::string::npos);
  CHECK(interlocked("electrical") == "");
}
