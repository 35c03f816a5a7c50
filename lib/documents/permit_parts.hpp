// How the lines for permits are put together; used by their makers and by the checklist.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "documents/permit_lines.hpp"

namespace linewright::documents {

/// Lines under way.
class PermitLines {
 public:
  explicit PermitLines(PermitSubject subject) : subject_(subject) {}

  /// A line, unless there are no words.
  void add(std::vector<int> items, std::string words) {
    if (!words.empty()) lines.push_back({subject_, std::move(items), std::move(words)});
  }
  /// "Customer: " and the words, unless there are none.
  void add(std::vector<int> items, const std::string& before, const std::string& words) {
    if (!words.empty()) add(std::move(items), before + words);
  }

  std::vector<PermitLine> lines;

 private:
  PermitSubject subject_;
};

/// What is said of one thing.
struct Said {
  std::string designation;
  std::string words;
};

/// "-T1, -T2" by words: things of which the same is said, in the order of the first of each.
std::vector<Said> alike(const std::vector<Said>& all);

/// The parts that are not empty with ", " between.
std::string listed(const std::vector<std::string>& parts);

/// Indices of the elements of kind T, in the order of the file.
template <class T>
std::vector<std::size_t> elements_with(const site::Site& site) {
  std::vector<std::size_t> found;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<T>(site.elements[e]) != nullptr) found.push_back(e);
  return found;
}

/// What stands between a source of direct current and its inverter, and that inverter.
struct DcWay {
  std::vector<std::size_t> devices;
  std::size_t inverter = site::none;
};

/// The way of each PV array and battery, by the number of its element; the rest is empty.
std::vector<DcWay> dc_ways(const site::Site& site);

/// The public supply, or null.
const site::Supply* supply_of(const site::Site& site);

/// Devices with a neutral pole that move between the named states.
std::vector<std::size_t> moving_with_neutral(const PermitFacts& facts);

/// What parts an island from the supply: switches closed in the grid state and open in the island.
struct IslandSwitch {
  std::size_t element = site::none;
  std::string part;  ///< "transfer" for an inverter's own contact
};
std::vector<IslandSwitch> island_switches(const PermitFacts& facts);

/// The first view of a state of that kind, or null.
const network::StateView* view_of(const PermitFacts& facts, site::StateKind kind);

/// Circuits that are promised a backup, as elements.
std::vector<std::size_t> backed_up(const site::Site& site);

/// Findings and open points of the rules that prove disconnection.
std::vector<const Finding*> disconnection_findings(const Report& report);
std::vector<const OpenPoint*> disconnection_open(const Report& report);

// The makers of the lines.
std::vector<PermitLine> supply_lines(const PermitFacts& facts);
std::vector<PermitLine> source_lines(const PermitFacts& facts);
std::vector<PermitLine> protection_lines(const PermitFacts& facts);
std::vector<PermitLine> earthing_lines(const PermitFacts& facts);
std::vector<PermitLine> operation_lines(const PermitFacts& facts);
std::vector<PermitLine> signal_lines(const PermitFacts& facts);
std::vector<PermitLine> standard_lines(const PermitFacts& facts);
std::vector<PermitLine> on_site_lines(const PermitFacts& facts);

}  // namespace linewright::documents
