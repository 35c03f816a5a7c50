// Edits of a site, made in the text that describes it.
#include "input/edits.hpp"

#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "support/judge.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;

namespace {

/// The text with the edits made; the words of the failure behind "refused: " where there is one.
std::string edited(std::string_view yaml, const std::vector<Edit>& edits) {
  const site::Site site = site_from(yaml);
  const auto changes = input::text_changes(yaml, site, edits);
  return changes ? input::changed(yaml, *changes) : "refused: " + changes.error().message;
}

constexpr std::string_view house = R"(# the whole house
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}   # as the distributor says
boards:
  +A1:
    feed:
      - supply
      - -W1 3×16 mm² 5 m
      - -Q1 switch-disconnector 63 A 1P   # main switch
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P, cable: 3×2.5 mm² 9 m, use: sockets}
      - name: Lights      # upstairs
        device: -F2 B10 1P+N 30 mA type AC
        cable: 3×1.5 mm² 9 m
        use: lighting
        phase: L1
states:
  grid: {}
)";

}  // namespace

TEST_CASE("edits: a word of a device takes the place of the word that says the same") {
  CHECK(edited(house, {DeviceWords{"-Q1", "2P"}}) ==
        with(house, "switch-disconnector 63 A 1P", "switch-disconnector 63 A 2P"));
  CHECK(edited(house, {DeviceWords{"-F2", "type A 1P"}}) ==
        with(house, "B10 1P+N 30 mA type AC", "B10 1P 30 mA type A"));
  CHECK(edited(house, {DeviceWords{"-F2", "100 mA"}}) ==
        with(house, "30 mA type AC", "100 mA type AC"));
  CHECK(edited(house, {DeviceWords{"-F2", "C13"}}) == with(house, "-F2 B10", "-F2 C13"));
}

TEST_CASE("edits: a word that nothing says yet goes behind the last one") {
  CHECK(edited(house, {DeviceWords{"-F1", "30 mA type A"}}) ==
        with(house, "device: B16 1P,", "device: B16 1P 30 mA type A,"));
  CHECK(edited(house, {DeviceWords{"-Q1", "two-way lockable"}}) ==
        with(house, "63 A 1P   # main", "63 A 1P two-way lockable   # main"));
}

TEST_CASE("edits: several edits of one device are made together, in any order") {
  const std::string wanted = with(house, "- -Q1 switch-disconnector 63 A 1P",
                                  "- {device: -Q1 switch-disconnector 63 A 2P lockable, category: "
                                  "AC-23, operated: hand}");
  CHECK(edited(house, {KeyValue{"-Q1", "category", "AC-23"}, DeviceWords{"-Q1", "2P"},
                       KeyValue{"-Q1", "operated", "hand"}, DeviceWords{"-Q1", "lockable"}}) ==
        wanted);
}

TEST_CASE("edits: a key of a circuit is set, added or taken out, remarks stay") {
  const std::string sockets = "-E1";
  const std::string lights = "-E2";
  CHECK(edited(house, {KeyValue{sockets, "use", "fixed"}}) ==
        with(house, "use: sockets", "use: fixed"));
  CHECK(edited(house, {KeyValue{sockets, "drive", "no"}}) ==
        with(house, "use: sockets}", "use: sockets, drive: no}"));
  CHECK(edited(house, {KeyValue{lights, "drive", "no"}, KeyValue{lights, "load", "1 kW"}}) ==
        with(house, "        phase: L1\n",
             "        phase: L1\n        drive: no\n        load: 1 kW\n"));
  CHECK(edited(house, {TakenOut{sockets, "use"}}) == with(house, ", use: sockets}", "}"));
  CHECK(edited(house, {TakenOut{lights, "use"}}) == with(house, "        use: lighting\n", ""));
  CHECK(edited(house, {TakenOut{lights, "name"}}) ==
        with(house, "- name: Lights      # upstairs\n        device", "- device"));
}

TEST_CASE("edits: an interlock goes to the others, or begins their list at the end of the file") {
  const NewInterlock lever{{{"-Q1", "closed", {}}, {"-F1", "open", {}}}, "mechanical"};
  const std::string line = "{never together: [-Q1, -F1: open], by: mechanical}";
  CHECK(edited(house, {lever}) == std::string(house) + "interlocks:\n  - " + line + "\n");
  const std::string second = std::string(house) + "interlocks:\n- {never together: [-Q1, -F2]}\n";
  CHECK(edited(second, {lever}) ==
        with(second, "interlocks:\n- ", "interlocks:\n- " + line + "\n- "));
  const std::string in_line = std::string(house) + "interlocks: [{never together: [-Q1, -F2]}]\n";
  CHECK(edited(in_line, {lever}) == with(in_line, "interlocks: [", "interlocks: [" + line + ", "));
}

TEST_CASE("edits: a new device stands ahead of or behind another in its chain") {
  using Side = NewDevice::Side;
  CHECK(edited(house, {NewDevice{"-Q1", Side::ahead, "RCD 63 A 2P 300 mA"}}) ==
        with(house, "      - -Q1", "      - RCD 63 A 2P 300 mA\n      - -Q1"));
  CHECK(edited(house, {NewDevice{"-Q1", Side::behind, "RCD 63 A 2P 300 mA"}}) ==
        with(house, "# main switch\n", "# main switch\n      - RCD 63 A 2P 300 mA\n"));
  CHECK(edited(house, {NewDevice{"-F1", Side::ahead, "RCD 63 A 2P 300 mA"}}) ==
        "refused: '-F1' stands in no chain of the file");
}

TEST_CASE("edits: a link is added where links stand, and taken out with its line") {
  const NewLink link{"+A1", {}};
  const std::string added = std::string(house) + "earthing:\n  links: {-X1: {at: +A1}}\n";
  CHECK(edited(house, {link}) == added);
  CHECK(edited(added, {NewLink{"+A1", {"grid"}}}) ==
        with(added, "{-X1: {at: +A1}}",
             "{-X2: {at: +A1, contact: yes, rest: open, closed in: [grid]}, -X1: {at: +A1}}"));
  CHECK(edited(added, {TakenOut{"-X1", {}}}) == with(added, "{-X1: {at: +A1}}", "{}"));
}

TEST_CASE("edits: a position goes into the state that the file has") {
  CHECK(edited(house, {StatePosition{"grid", {"-Q1", "open", {}}}}) ==
        with(house, "grid: {}", "grid: {-Q1: open}"));
}

TEST_CASE("edits: a state that only the interior gives is written out with its other positions") {
  constexpr std::string_view panel = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators: {-G1: {neutral: linked}}
boards: {+A1: {feed: [supply, -W1 3×16 mm² 5 m]}}
panel: {id: +A2, interior: manual changeover, grid: [A1], generator: [-G1, -W2 3×6 mm² 5 m], changeover: -Q1 40 A}
)";
  CHECK(edited(panel, {StatePosition{"generator", {"-Q1", "0", {}}}}) ==
        std::string(panel) + "states:\n  generator: {-Q1: 0}\n");
  CHECK(edited(panel, {DeviceWords{"-Q1", "63 A 2P"}}) == with(panel, "-Q1 40 A", "-Q1 63 A 2P"));
}

TEST_CASE("edits: what the long form says by a key is changed there") {
  constexpr std::string_view site = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
devices:
  -Q1: {device: switch-disconnector 63 A 2P, neutral: separate, rest: open}
boards: {+A1: {feed: [supply, -W1 3×16 mm² 5 m, -Q1]}}
)";
  CHECK(edited(site, {DeviceWords{"-Q1", "neutral simultaneous normally closed 1P"}}) ==
        with(with(with(site, "neutral: separate", "neutral: simultaneous"), "rest: open",
                  "rest: closed"),
             "63 A 2P", "63 A 1P"));
}

TEST_CASE("edits: a type that others use is left alone, one of a single use is changed") {
  constexpr std::string_view shared = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
types:
  heater: {device: B10 1P+N, cable: 3×1.5 mm² 9 m, use: fixed}
  roof: {kind: pv, chain-free: no}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 5 m]
    circuits:
      - {name: One, type: heater}
      - {name: Two, type: heater, id: -F2}
)";
  const std::string two = with(shared, "  roof: {kind: pv, chain-free: no}\n", "");
  const std::string refused = edited(two, {DeviceWords{"-F2", "30 mA type A"}});
  CHECK(refused == "refused: where '-F2' is described cannot be told for sure");
  CHECK(edited(two, {KeyValue{"-E1", "use", "sockets"}}) ==
        with(two, "{name: One, type: heater}", "{name: One, type: heater, use: sockets}"));
}

TEST_CASE("edits: CR LF line ends and a byte order mark are kept") {
  std::string text = "\xEF\xBB\xBF" + std::string(house);
  for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 2))
    text.insert(at, "\r");
  const std::string changed = edited(text, {KeyValue{"-E2", "drive", "no"}});
  CHECK(changed == with(text, "phase: L1\r\n", "phase: L1\r\n        drive: no\r\n"));
}

TEST_CASE("edits: words in quotes stay in their quotes, brackets in quotes close nothing") {
  constexpr std::string_view site = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 5 m, "-Q1 switch-disconnector 63 A 1P"]
    circuits: [{name: "Room ]} one", device: B10 1P+N, cable: 3×1.5 mm² 9 m}]
signals: [{id: -W9, devices: [-Q1, "+A1"], kind: 'it''s ]' }]
)";
  CHECK(edited(site, {DeviceWords{"-Q1", "2P"}}) == with(site, "63 A 1P", "63 A 2P"));
  CHECK(edited(site, {DeviceWords{"-Q1", "lockable"}}) ==
        with(site, "63 A 1P\"", "63 A 1P lockable\""));
}

TEST_CASE("edits: what cannot be told is refused, and nothing is changed") {
  CHECK(edited(house, {DeviceWords{"-Q7", "2P"}}).starts_with("refused: where '-Q7'"));
  CHECK(edited(house, {StatePosition{"island", {"-Q1", "open", {}}}}).starts_with("refused: "));
  CHECK(edited(house, {TakenOut{"-Q1", {}}}).starts_with("refused: "));
  CHECK(edited(house, {TakenOut{"-E1", "drive"}}).starts_with("refused: "));
  CHECK(edited(house, {DeviceWords{"-Q1", "2P"}, DeviceWords{"-Q1", "3P"}})
            .starts_with("refused: two of its changes"));
}
