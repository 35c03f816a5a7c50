// A campus of any size as a site file, always the same for a number of feeders.
#pragma once

#include <algorithm>
#include <string>

#include <fmt/core.h>

namespace linewright::tests {

/// A site file with a supply and a generator behind a changeover, and boards of twenty outgoing
/// circuits each, every board feeding eight more until all circuits have a place. A feeder is an
/// outgoing circuit, of a load or of another board.
class Campus {
 public:
  explicit Campus(std::size_t feeders) : feeders_(feeders) {
    text_ = fmt::format(
        R"(site: {{name: Campus {}, date: 2026-01-01}}
profile: international
supply: {{system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fault current: 3 kA to 10 kA, fuse: 400 A gG, rotation: clockwise}}
earthing: {{main terminal: A1, electrodes: {{-XE1: 5 ohm}}}}
generators:
  -G2: {{power: 200 kVA, neutral: linked, fixed: yes, fault current: 1 kA, rotation: clockwise}}
devices:
  -Q1: {{device: changeover I-0-II 400 A 4P by hand isolating lockable neutral simultaneous, break before make: yes}}
types:
  lights: {{device: B10 1P+N 30 mA type A 10 kA, cable: 3×1.5 mm² Cu 20 m, load: 0.3 kW, use: lighting}}
  sockets: {{device: B16 1P+N 30 mA type A 10 kA, cable: 3×2.5 mm² Cu 25 m, load: 1 kW, use: sockets}}
  fans: {{device: C16 4P 30 mA type A 10 kA, cable: 5×2.5 mm² Cu 30 m, load: 4 kW, use: fixed}}
boards:
)",
        feeders);
    const std::size_t boards = (feeders_ + per_board - 1) / per_board;
    for (std::size_t b = 1; b <= boards; ++b)
      add_board(b, boards);
    text_ += R"(chains:
  - [supply, -Q11 switch-disconnector 400 A 4P isolating lockable, -Q1:I]
  - [-G2, -Q12 switch-disconnector 400 A 4P isolating lockable, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";
  }

  std::string text() && { return std::move(text_); }

 private:
  static constexpr std::size_t per_board = 20;
  static constexpr std::size_t fed_by_each = 8;

  void add_board(std::size_t b, std::size_t boards) {
    text_ +=
        fmt::format("  +A{0}:\n    name: Board {0}\n    service: backup\n    busbar: 63 A\n", b);
    if (b == 1)
      text_ += "    feed: [-Q1, -W1 5×70 mm² Cu 20 m, -Q2 B63 4P 10 kA isolating lockable]\n";
    text_ += "    circuits:\n";
    std::size_t here = 0;
    for (std::size_t fed = (b - 1) * fed_by_each + 2; fed < b * fed_by_each + 2; ++fed, ++here) {
      if (fed > boards) break;
      text_ += fmt::format(
          "      - {{id: -F{}.{}, name: Feed {}, feeds: +A{}, device: C63 4P 10 kA, cable: 5×16 "
          "mm² Cu 20 m}}\n",
          b, 100 + fed, fed, fed);
    }
    for (feeders_ -= std::min(here, feeders_); here < per_board && feeders_ > 0; ++here, --feeders_)
      add_load(b, here + 1);
  }

  void add_load(std::size_t board, std::size_t number) {
    constexpr const char* types[] = {"lights", "sockets", "fans"};
    constexpr const char* names[] = {"Lights", "Sockets", "Fans"};
    ++loads_;
    text_ += fmt::format("      - {{type: {}, name: {} {}, id: -F{}.{}}}\n", types[loads_ % 3],
                         names[loads_ % 3], loads_, board, number);
  }

  std::size_t feeders_;
  std::size_t loads_ = 0;
  std::string text_;
};

}  // namespace linewright::tests
