#include "diagram/line.hpp"

#include <algorithm>
#include <cmath>

#include "diagram/measure.hpp"
#include "units/ensure.hpp"

namespace linewright::diagram {
namespace {

double up_to_grid(double value) {
  return std::ceil(value / module_width - 1e-6) * module_width;
}

double wanted(const Separation& separation, double air) {
  return separation.least + (separation.airy ? air : 0.0);
}

/// Separations by the variable they lead from or to, in one piece of memory.
struct Edges {
  std::vector<std::size_t> first;  ///< by variable, where its separations begin in `index`
  std::vector<std::size_t> index;  ///< into Line::separations
};

template <class Key>
Edges edges_by(const Line& line, Key key) {
  Edges edges;
  edges.first.assign(line.least.size() + 1, 0);
  for (const Separation& separation : line.separations)
    ++edges.first[key(separation) + 1];
  for (std::size_t i = 1; i < edges.first.size(); ++i)
    edges.first[i] += edges.first[i - 1];
  std::vector<std::size_t> next = edges.first;
  edges.index.resize(line.separations.size());
  for (std::size_t i = 0; i < line.separations.size(); ++i) {
    const std::size_t of = key(line.separations[i]);
    edges.index[next.at(of)] = i;
    next.at(of) += 1;
  }
  return edges;
}

Edges edges_into(const Line& line) {
  return edges_by(line, [](const Separation& separation) { return separation.after; });
}

Edges edges_out_of(const Line& line) {
  return edges_by(line, [](const Separation& separation) { return separation.before; });
}

// The variables so that every separation leads from an earlier to a later one.
std::vector<std::size_t> sorted(const Line& line, const Edges& out_of) {
  std::vector<std::size_t> open(line.least.size(), 0);
  for (const Separation& separation : line.separations)
    ++open[separation.after];
  std::vector<std::size_t> order;
  order.reserve(open.size());
  for (std::size_t i = 0; i < open.size(); ++i)
    if (open[i] == 0) order.push_back(i);
  for (std::size_t next = 0; next < order.size(); ++next) {
    const std::size_t variable = order[next];
    for (std::size_t i = out_of.first[variable]; i < out_of.first[variable + 1]; ++i) {
      const std::size_t after = line.separations[out_of.index[i]].after;
      if (--open[after] == 0) order.push_back(after);
    }
  }
  ENSURE(order.size() == open.size());
  return order;
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

  // Begins where the last projection ended: with what each distance and limit gave way then.
  void begin(std::vector<double>& places) const {
    for (std::size_t i = 0; i < line.separations.size(); ++i) {
      places[line.separations[i].before] -= give[i];
      places[line.separations[i].after] += give[i];
    }
    for (std::size_t i = 0; i < places.size(); ++i)
      places[i] += give_least[i] - give_most[i];
  }

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

double farthest(const std::vector<double>& before, const std::vector<double>& after) {
  double moved = 0.0;
  for (std::size_t i = 0; i < before.size(); ++i)
    moved = std::max(moved, std::abs(after[i] - before[i]));
  return moved;
}

void project(Projection& projection, std::vector<double>& places) {
  projection.begin(places);
  for (int round = 0; round < 400; ++round)
    if (projection.sweep(places) < 1e-2) return;
}

}  // namespace

std::vector<double> leftmost(const Line& line, double air, Grid grid) {
  const Edges out_of = edges_out_of(line);
  std::vector<double> places = line.least;
  for (const std::size_t variable : sorted(line, out_of)) {
    double& place = places[variable];
    if (grid == Grid::kept && variable < line.snapped) place = up_to_grid(place);
    for (std::size_t i = out_of.first[variable]; i < out_of.first[variable + 1]; ++i) {
      const Separation& separation = line.separations[out_of.index[i]];
      places[separation.after] =
          std::max(places[separation.after], place + wanted(separation, air));
    }
  }
  return places;
}

double worst_excess(const Line& line, const std::vector<double>& places) {
  double worst = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i)
    worst = std::max(worst, places[i] - line.most[i]);
  return worst;
}

double excess(const Line& line, const std::vector<double>& places) {
  double sum = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i)
    sum += std::max(0.0, places[i] - line.most[i]);
  return sum;
}

std::optional<std::vector<double>> settle(const Line& line, double air) {
  std::vector<double> places = leftmost(line, air, Grid::kept);
  if (excess(line, places) > 1e-6) return std::nullopt;
  constexpr double at_rest = 0.05;  // mm; places go on the module at last
  Projection projection{.line = line,
                        .air = air,
                        .give = std::vector<double>(line.separations.size(), 0.0),
                        .give_least = std::vector<double>(places.size(), 0.0),
                        .give_most = std::vector<double>(places.size(), 0.0)};
  for (int round = 0; round < 40; ++round) {
    const std::vector<double> before = places;
    places = wishes(line, places);
    project(projection, places);
    if (farthest(before, places) < at_rest) break;
  }
  const Edges out_of = edges_out_of(line);
  const Edges into = edges_into(line);
  const std::vector<std::size_t> order = sorted(line, out_of);
  std::vector<double> latest = line.most;
  for (auto it = order.rbegin(); it != order.rend(); ++it) {
    for (std::size_t i = out_of.first[*it]; i < out_of.first[*it + 1]; ++i) {
      const Separation& separation = line.separations[out_of.index[i]];
      latest[*it] = std::min(latest[*it], latest[separation.after] - wanted(separation, 0.0));
    }
    if (*it < line.snapped)
      latest[*it] = std::floor(latest[*it] / module_width + 1e-6) * module_width;
  }
  for (const std::size_t variable : order) {
    double least = line.least[variable];
    for (std::size_t i = into.first[variable]; i < into.first[variable + 1]; ++i) {
      const Separation& separation = line.separations[into.index[i]];
      least = std::max(least, places[separation.before] + wanted(separation, 0.0));
    }
    const bool on_grid = variable < line.snapped;
    const double up = on_grid ? up_to_grid(least) : least;
    const double near =
        on_grid ? std::round(places[variable] / module_width) * module_width : places[variable];
    places[variable] = std::max(up, std::min(near, latest[variable]));
    if (places[variable] > line.most[variable] + 1e-6) return std::nullopt;
  }
  return places;
}

}  // namespace linewright::diagram
