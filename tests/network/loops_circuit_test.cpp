// Every loop that the block tree traces, held against the solved currents of a resistor network.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <catch2/catch.hpp>

#include "input/read.hpp"
#include "network/state_view.hpp"
#include "support/circuit.hpp"
#include "support/paths.hpp"

using namespace linewright;

namespace {

std::vector<std::filesystem::path> site_files() {
  std::vector<std::filesystem::path> files;
  for (const char* folder : {"samples", "tests/field"})
    for (const auto& entry : std::filesystem::recursive_directory_iterator(
             std::filesystem::path(tests::source_folder()) / folder))
      if (entry.path().extension() == ".yaml") files.push_back(entry.path());
  std::ranges::sort(files);
  return files;
}

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

bool has(const std::vector<std::size_t>& list, std::size_t element) {
  return std::ranges::count(list, element) > 0;
}

}  // namespace

TEST_CASE(
    "loops: an RCD is said to see a fault exactly if its solved residual current is all of it") {
  int compared = 0;
  for (const auto& path : site_files()) {
    const input::Reading reading = input::read_site(text_of(path));
    if (!reading.site || reading.site->elements.size() > 90) continue;  // dense solving is cubic
    INFO(path.filename().string());
    const network::Network net = network::build(*reading.site);
    for (const site::State& state : reading.site->states) {
      const network::StateView view = network::view(net, *reading.site, state);
      INFO(state.name);
      for (const network::Loop& loop : view.loops) {
        const auto source =
            std::ranges::find(net.sources, loop.source, &network::SourcePoint::element);
        INFO(reading.site->elements[loop.load].designation);
        for (const site::Conductor line :
             {site::Conductor::l1, site::Conductor::l2, site::Conductor::l3}) {
          const auto currents =
              tests::fault_currents(net, view.positions, *source, loop.load, line);
          if (currents.residual.empty()) continue;
          const double total = currents.at_fault;
          CHECK((std::abs(total) > 0.01) == (loop.return_path != network::ReturnPath::none));
          if (std::abs(total) < 0.01) continue;
          CHECK((total > 100.0) == (loop.return_path == network::ReturnPath::metallic));
          for (const network::RcdOnLoop& rcd : loop.rcds) {
            if (has(loop.line_detours, rcd.element)) continue;
            const double share = currents.residual.at(rcd.element) / total;
            INFO(reading.site->elements[rcd.element].designation << " share " << share);
            CHECK(rcd.sees == (std::abs(std::abs(share) - 1.0) < 0.02));
            ++compared;
          }
        }
      }
    }
  }
  CHECK(compared > 200);
}
