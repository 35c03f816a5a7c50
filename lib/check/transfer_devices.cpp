#include "check/transfer_devices.hpp"

#include <algorithm>

#include "network/joining.hpp"
#include "network/ways.hpp"

namespace linewright::check {
namespace {

bool joins(const network::Edge& edge) {
  return edge.kind != network::EdgeKind::bond && edge.kind != network::EdgeKind::earth &&
         site::lines.has(edge.conductor);
}

/// Whether it is moved by a coil or motor. A contactor that does not say is.
bool moved_by_controller(const site::Device& device) {
  if (device.operation) return *device.operation != site::Operation::hand;
  return device.kind == site::DeviceKind::contactor;
}

void add_once(std::vector<std::size_t>& list, const std::vector<std::size_t>& more) {
  for (const std::size_t item : more)
    if (std::ranges::count(list, item) == 0) list.push_back(item);
}

}  // namespace

std::vector<std::size_t> sources_reached(const AnalysedSite& site, std::size_t element,
                                         std::size_t terminal) {
  const network::Network& net = site.network;
  std::vector<std::vector<std::uint32_t>> beside(net.nodes.size());
  for (const network::Edge& edge : net.edges) {
    if (!joins(edge) || edge.element == element) continue;
    beside[edge.a].push_back(edge.b);
    beside[edge.b].push_back(edge.a);
  }
  std::vector<std::uint32_t> next = network::line_nodes(net, element, terminal);
  std::vector<bool> reached(net.nodes.size(), false);
  for (const auto node : next)
    reached[node] = true;
  for (std::size_t i = 0; i < next.size(); ++i)
    for (const auto other : beside[next[i]]) {
      if (reached[other]) continue;
      reached[other] = true;
      next.push_back(other);
    }
  std::vector<std::size_t> sources;
  for (std::size_t s = 0; s < net.sources.size(); ++s)
    if (net.sources[s].forming &&
        std::ranges::any_of(network::line_nodes(net, s), [&](auto node) { return reached[node]; }))
      sources.push_back(net.sources[s].element);
  return sources;
}

std::vector<TransferDevice> transfer_devices(const AnalysedSite& site) {
  std::vector<TransferDevice> found;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device == nullptr) continue;
    const bool changeover = device->kind == site::DeviceKind::changeover;
    if (!changeover && device->kind != site::DeviceKind::contactor) continue;
    TransferDevice transfer{.element = e, .by_controller = moved_by_controller(*device)};
    bool every_side = true;
    for (std::size_t t = 0; t < site.element(e).terminals.size(); ++t) {
      if (changeover && site.element(e).terminals[t] == "common") continue;
      const std::vector<std::size_t> here = sources_reached(site, e, t);
      every_side = every_side && !here.empty();
      add_once(transfer.sources, here);
    }
    if (changeover || every_side) found.push_back(std::move(transfer));
  }
  return found;
}

std::vector<FeedOf> feeds_of(const AnalysedSite& site, const network::StateView& state,
                             std::size_t element, std::size_t terminal) {
  std::vector<FeedOf> feeds;
  for (const network::SourcePoint& source : site.network.sources) {
    if (!source.forming || std::ranges::count(state.state->running, source.element) == 0) continue;
    const network::WaysFrom ways(site.network, site.site, state.positions, source);
    const network::Passage passage = ways.lines_to(element, terminal);
    if (!passage.joined) continue;
    FeedOf feed{.source = source.element};
    for (const std::size_t on_way : passage.devices)
      if (site::breaks_overcurrent(*site::facts<site::Device>(site.element(on_way))))
        feed.device = on_way;
    feeds.push_back(feed);
  }
  return feeds;
}

}  // namespace linewright::check
