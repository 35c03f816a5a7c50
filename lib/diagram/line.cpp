#include "diagram/line.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "diagram/measure.hpp"
#include "units/ensure.hpp"

namespace linewright::diagram {
namespace {

double wanted(const Separation& separation, double air) {
  return separation.least + (separation.airy ? air : 0.0);
}

// The variables so that every separation leads from an earlier to a later one.
std::vector<std::size_t> sorted(const Line& line) {
  std::vector<std::size_t> open(line.least.size(), 0);
  for (const Separation& separation : line.separations)
    ++open[separation.after];
  std::vector<std::vector<std::size_t>> after(line.least.size());
  for (const Separation& separation : line.separations)
    after[separation.before].push_back(separation.after);
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < open.size(); ++i)
    if (open[i] == 0) order.push_back(i);
  for (std::size_t next = 0; next < order.size(); ++next)
    for (const std::size_t variable : after[order[next]])
      if (--open[variable] == 0) order.push_back(variable);
  ENSURE(order.size() == open.size());
  return order;
}

struct Edges {
  std::vector<std::vector<Separation>> into;
  std::vector<std::vector<Separation>> out_of;
};

Edges edges_of(const Line& line) {
  Edges edges;
  edges.into.resize(line.least.size());
  edges.out_of.resize(line.least.size());
  for (const Separation& separation : line.separations) {
    edges.into[separation.after].push_back(separation);
    edges.out_of[separation.before].push_back(separation);
  }
  return edges;
}

// Every variable goes to the mean of its wishes.
std::vector<double> wishes(const Line& line, const std::vector<double>& places) {
  std::vector<double> sum(places.size(), 0.0);
  std::vector<double> weight(places.size(), 0.0);
  for (const Pull& pull : line.pulls) {
    sum[pull.b] += pull.weight * (places[pull.a] + pull.offset);
    weight[pull.b] += pull.weight;
    sum[pull.a] += pull.weight * (places[pull.b] - pull.offset);
    weight[pull.a] += pull.weight;
  }
  std::vector<double> wish = places;
  for (std::size_t i = 0; i < places.size(); ++i)
    if (weight[i] > 0.0) wish[i] = 0.5 * places[i] + 0.5 * sum[i] / weight[i];
  return wish;
}

/// Nearest places to the wishes under all distances: Hildreth's method, each distance and limit in
/// turn gives way just as far as it must (Quart. Applied Math. 14, 1957; from memory).
struct Projection {
  const Line& line;
  double air;
  std::vector<double> give;
  std::vector<double> give_least;
  std::vector<double> give_most;

  double sweep(std::vector<double>& places) {
    double moved = 0.0;
    for (std::size_t i = 0; i < line.separations.size(); ++i) {
      const Separation& separation = line.separations[i];
      const double lack =
          wanted(separation, air) - (places[separation.after] - places[separation.before]);
      const double step = std::max(lack / 2.0, -give[i]);
      give[i] += step;
      places[separation.before] -= step;
      places[separation.after] += step;
      moved = std::max(moved, std::abs(step));
    }
    for (std::size_t i = 0; i < places.size(); ++i) {
      const double up = std::max(line.least[i] - places[i], -give_least[i]);
      give_least[i] += up;
      places[i] += up;
      const double down = std::max(places[i] - line.most[i], -give_most[i]);
      give_most[i] += down;
      places[i] -= down;
      moved = std::max({moved, std::abs(up), std::abs(down)});
    }
    return moved;
  }
};

void project(const Line& line, double air, std::vector<double>& places) {
  Projection projection{.line = line,
                        .air = air,
                        .give = std::vector<double>(line.separations.size(), 0.0),
                        .give_least = std::vector<double>(places.size(), 0.0),
                        .give_most = std::vector<double>(places.size(), 0.0)};
  for (int round = 0; round < 400; ++round)
    if (projection.sweep(places) < 1e-3) return;
}

}  // namespace

std::vector<double> leftmost(const Line& line, double air) {
  const Edges edges = edges_of(line);
  std::vector<double> places = line.least;
  for (const std::size_t variable : sorted(line))
    for (const Separation& separation : edges.into[variable])
      places[variable] =
          std::max(places[variable], places[separation.before] + wanted(separation, air));
  return places;
}

double excess(const Line& line, const std::vector<double>& places) {
  double sum = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i)
    sum += std::max(0.0, places[i] - line.most[i]);
  return sum;
}

std::optional<std::vector<double>> settle(const Line& line, double air, std::size_t snapped) {
  std::vector<double> places = leftmost(line, air);
  if (excess(line, places) > 1e-6) return std::nullopt;
  for (int round = 0; round < 40; ++round) {
    places = wishes(line, places);
    project(line, air, places);
  }
  const Edges edges = edges_of(line);
  const std::vector<std::size_t> order = sorted(line);
  std::vector<double> latest = line.most;
  for (auto it = order.rbegin(); it != order.rend(); ++it) {
    for (const Separation& separation : edges.out_of[*it])
      latest[*it] = std::min(latest[*it], latest[separation.after] - wanted(separation, 0.0));
    if (*it < snapped) latest[*it] = std::floor(latest[*it] / module_width + 1e-6) * module_width;
  }
  for (const std::size_t variable : order) {
    double least = line.least[variable];
    for (const Separation& separation : edges.into[variable])
      least = std::max(least, places[separation.before] + wanted(separation, 0.0));
    const double step = variable < snapped ? module_width : 0.25;
    const double up = std::ceil(least / step - 1e-6) * step;
    places[variable] = std::max(up, std::round(places[variable] / step) * step);
    if (places[variable] > latest[variable]) places[variable] = std::max(up, latest[variable]);
    if (places[variable] > line.most[variable] + 1e-6) return std::nullopt;
  }
  return places;
}

}  // namespace linewright::diagram
