// Five reference layouts, whose positions, bonds and kinds of earthing are known for every state
// (tables A to E of the requirement catalogue, section 13).
#pragma once

#include <string>
#include <string_view>

#include "support/judge.hpp"

namespace linewright::tests {

// Hybrid inverter, island isolator on all live conductors, link relay on the island side.
inline constexpr std::string_view layout_a = R"(
profile: GB
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S, pen split: supply}
earthing: {main terminal: A1, electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: linked, winding: line-neutral, fixed: yes, own rcd: no, takes power back: no}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island,
        bond rest: closed, separation: none, rcd type: A, no dc fault current: yes,
        zero feed to generator: yes}
panel:
  id: +A2
  interior: two sources with bypass
  grid: [A1, -W2 3×10 mm² 3 m]
  generator: [-G2, -W9 3×6 mm² 18 m]
  inverters: {-T1: {in: [-W11 3×6 mm² 2 m], out: [-W12 3×6 mm² 2 m]}}
  changeover: 40 A 2P by hand
  bypass: 40 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W3 3×6 mm² 3 m]
    service: backup
    circuits:
      - {id: -F31, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
      - {id: -F32, device: B6 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}
)";

inline constexpr std::string_view layout_b = R"(
profile: FR
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing: {main terminal: A1, electrodes: {-XE1: 40 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island,
        bond rest: closed, separation: none, rcd type: A, no dc fault current: yes}
panel:
  id: +A2
  interior: one source with bypass
  grid: [A1, -W2 3×10 mm² 3 m]
  inverters: {-T1: {in: [-W11 3×6 mm² 2 m], out: [-W12 3×6 mm² 2 m]}}
  changeover: 40 A 2P by hand
  bypass: 40 A 2P by hand
boards:
  +A1:
    material: insulating
    feed: [supply, -W1 2×16 mm² 3 m double insulated, -F1 RCD 63 A 2P 500 mA type A S two-way]
  +A3:
    feed: [A2, -W3 3×6 mm² 3 m]
    service: backup
    circuits:
      - {id: -F31, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
)";

inline constexpr std::string_view layout_c = R"(
profile: AU
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S, pen split: A1}
earthing: {main terminal: A1, electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: floating, winding: line-neutral, fixed: no, own rcd: no, takes power back: no}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: joined, bond: none, separation: none,
        rcd type: A, no dc fault current: yes, zero feed to generator: yes}
busbars: {-WB1: 63 A}
devices:
  -Q1: contactor 63 A 1P
  -Q5: switch-disconnector 40 A 2P normally open neutral early
boards:
  +A1: {feed: [supply, -W1 2×16 mm² 3 m]}
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
    service: backup
    circuits:
      - {id: -F31, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
chains:
  - [A1, -W2 3×10 mm² 3 m, -Q1, -WB1]
  - [-G2, -W9 3×6 mm² 5 m, -X1 inlet 32 A, -Q5, -WB1]
  - [-WB1, -W11 3×6 mm² 2 m, -T1:ac]
states:
  grid: {-Q1: closed, -Q5: open}
  island: {-Q1: open, -Q5: open, running: [-T1]}
  generator: {-Q1: open, -Q5: closed, running: [-G2, -T1]}
interlocks:
  - {never together: [-Q1: closed, -Q5: closed], by: mechanical}
)";

inline constexpr std::string_view layout_d = R"(
profile: GB
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {main terminal: A1, electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: linked, winding: line-neutral, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 4P by hand neutral simultaneous
boards:
  +A1:
    feed: [-Q1, -W3 5×10 mm² 3 m]
    circuits:
      - {id: -F11, device: B16 4P 30 mA type A, cable: 5×2.5 mm² 9 m, use: fixed}
chains:
  - [supply, -W1 5×16 mm² 3 m, -Q1:I]
  - [-G2, -W2 5×10 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";

inline std::string layout_e() {
  return with(with(layout_d, "63 A 4P", "63 A 3P"), "linked", "floating");
}

}  // namespace linewright::tests
