// How long the proof takes as a site grows, and how the time grows with it: prints ratios, asserts
// nothing. Sites are rows of cells: a changeover between the common busbar and the cell's own
// generator, an isolator, circuits with RCDs, and a tie to the next cell, interlocked against
// either generator.
#include <chrono>
#include <cmath>
#include <cstdio>
#include <string>

#include <fmt/core.h>

#include "network/proof.hpp"

namespace {

using namespace linewright;

constexpr site::Conductors all{site::Conductor::l1, site::Conductor::n, site::Conductor::pe};

class Row {
 public:
  explicit Row(std::size_t devices) : wanted_(devices) {}

  site::Site make() {
    const auto main = add("-WB", site::Busbar{}, {"bar"});
    site::Supply supply;
    supply.earthing = site::Earthing::tn_s;
    join({add("-X", supply, {"out"}), 0}, {main, 0});
    while (devices_ < wanted_)
      add_cell({main, 0});
    return std::move(site_);
  }
  const network::HazardScope& scope() const { return scope_; }

 private:
  std::size_t add(const char* letter, site::Facts facts, std::vector<std::string> terminals) {
    if (std::holds_alternative<site::Device>(facts)) ++devices_;
    site_.elements.push_back({.designation = letter + std::to_string(site_.elements.size()),
                              .facts = std::move(facts),
                              .conductors = all,
                              .terminals = std::move(terminals)});
    return site_.elements.size() - 1;
  }
  void join(site::Terminal from, site::Terminal to) {
    site_.runs.push_back({.from = from, .to = to, .conductors = all});
  }
  std::size_t add_switch(site::DeviceKind kind, bool rcd) {
    site::Device device{.kind = kind, .poles = site::Poles{1, true, "2P"}};
    if (rcd) device.residual = site::Residual{};
    return add(rcd ? "-F" : "-Q", device, {"1", "2"});
  }

  void add_cell(site::Terminal main) {
    site::Generator generator;
    generator.neutral = site::NeutralLink::fixed;
    const std::size_t set = add("-G", generator, {"out"});
    site::Device device{.kind = site::DeviceKind::changeover,
                        .poles = site::Poles{1, true, "2P"},
                        .rest = "I",
                        .operation = site::Operation::hand};
    device.throws = {{"I", "I"}, {"0", ""}, {"II", "II"}};
    const std::size_t change = add("-Q", device, {"common", "I", "II"});
    const std::size_t bar = add("-WB", site::Busbar{}, {"bar"});
    join(main, {change, 1});
    join({set, 0}, {change, 2});
    join({change, 0}, {bar, 0});
    if (last_bar_ != site::none && devices_ < wanted_) add_tie(bar, change);
    last_bar_ = bar;
    last_change_ = change;
    for (int circuit = 0; circuit < 10 && devices_ < wanted_; ++circuit) {
      const std::size_t device_of = add_switch(site::DeviceKind::rcbo, true);
      const std::size_t load = add("-E", site::LoadGroup{}, {"in"});
      join({bar, 0}, {device_of, 0});
      join({device_of, 1}, {load, 0});
      scope_.loads_with_rcd.push_back(
          {load, std::make_shared<const std::vector<std::size_t>>(1, device_of)});
    }
  }

  void add_tie(std::size_t bar, std::size_t change) {
    const std::size_t tie = add_switch(site::DeviceKind::switch_disconnector, false);
    join({last_bar_, 0}, {tie, 0});
    join({tie, 1}, {bar, 0});
    for (const std::size_t either : {last_change_, change})
      site_.interlocks.push_back({.means = site::InterlockMeans::mechanical,
                                  .never_together = {{.element = tie, .position = "closed"},
                                                     {.element = either, .position = "II"}}});
  }

  std::size_t wanted_;
  std::size_t devices_ = 0;
  site::Site site_;
  network::HazardScope scope_;
  std::size_t last_bar_ = site::none;
  std::size_t last_change_ = site::none;
};

/// Milliseconds to decide every hazard; the certificate must prove each of them.
double measure(std::size_t devices) {
  Row row(devices);
  const site::Site site = row.make();
  const network::Network network = network::build(site);
  const auto before = std::chrono::steady_clock::now();
  const network::Certificate certificate = network::prove(network, site, row.scope());
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - before;
  for (const network::HazardVerdict& verdict : certificate.verdicts)
    if (verdict.outcome != network::Outcome::proved &&
        verdict.outcome != network::Outcome::not_relevant)
      fmt::print("hazard {} was not proved\n", static_cast<int>(verdict.kind));
  return took.count();
}

}  // namespace

int main() {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  fmt::print("devices       ms   exponent since the row before\n");
  double last = 0;
  std::size_t last_devices = 0;
  for (const std::size_t devices : {8U, 20U, 40U, 80U, 160U, 320U, 500U}) {
    const double took = measure(devices);
    fmt::print("{:7} {:8.1f}", devices, took);
    if (last > 0)
      fmt::print("   {:.2f}", std::log(took / last) / std::log(static_cast<double>(devices) /
                                                               static_cast<double>(last_devices)));
    fmt::print("\n");
    last = took;
    last_devices = devices;
  }
  return 0;
}
