#include <algorithm>
#include <cmath>
#include <numeric>

#include "network/proof.hpp"

namespace linewright::network {
namespace {

/// Positions tried one by one in a group of switches that interlocks tie together.
constexpr std::uint64_t most_tried = 1'000'000;

class Counter {
 public:
  Counter(const Movement& movement, std::size_t sources)
      : movement_(movement), group_(movement.of.size()) {
    std::iota(group_.begin(), group_.end(), 0U);
    total_.exact = 1;
    for (std::size_t s = 0; s < sources; ++s)
      multiply(2);
  }

  Count run() {
    for (const Barrier& barrier : movement_.barriers)
      for (const SwitchAt at : barrier.never_together)
        group_[root(static_cast<std::size_t>(at.by))] =
            root(static_cast<std::size_t>(barrier.never_together.front().by));
    std::vector<std::vector<std::size_t>> members(group_.size());
    for (std::size_t s = 0; s < group_.size(); ++s)
      if (is_moved(movement_.of[s])) members[root(s)].push_back(s);
    for (const std::vector<std::size_t>& group : members)
      count_group(group);
    if (!movement_.supervised.empty()) total_.counted = false;  // some do not last
    return total_;
  }

 private:
  std::size_t root(std::size_t i) {
    while (group_[i] != i)
      i = group_[i] = group_[group_[i]];
    return i;
  }

  void multiply(std::uint64_t by) {
    total_.decimal_digits += std::log10(static_cast<double>(by));
    std::uint64_t product = 0;
    if (total_.exact && !__builtin_mul_overflow(*total_.exact, by, &product))
      total_.exact = product;
    else
      total_.exact.reset();
  }

  void count_group(const std::vector<std::size_t>& members) {
    std::uint64_t product = 1;
    bool few = true;
    for (const std::size_t s : members) {
      product *= movement_.of[s].positions.size();
      few = few && product <= most_tried;
      if (!few) product = 1;
    }
    if (members.size() < 2 || !few) {
      if (members.size() > 1) total_.counted = false;
      for (const std::size_t s : members)
        multiply(movement_.of[s].positions.size());
      if (members.size() > 1) total_.exact.reset();
      return;
    }
    multiply(allowed(members));
  }

  std::uint64_t allowed(const std::vector<std::size_t>& members) const {
    std::vector<int> at(movement_.of.size(), unknown);
    for (std::size_t s = 0; s < at.size(); ++s)
      if (movement_.of[s].positions.size() == 1) at[s] = movement_.of[s].positions[0];
    std::uint64_t count = 0;
    std::vector<std::size_t> index(members.size(), 0);
    while (true) {
      for (std::size_t i = 0; i < members.size(); ++i)
        at[members[i]] = movement_.of[members[i]].positions[index[i]];
      if (allows(at)) ++count;
      std::size_t i = 0;
      while (i < members.size() && ++index[i] == movement_.of[members[i]].positions.size())
        index[i++] = 0;
      if (i == members.size()) return count;
    }
  }

  bool allows(const std::vector<int>& at) const {
    return std::ranges::none_of(movement_.barriers, [&](const Barrier& barrier) {
      return std::ranges::count_if(barrier.never_together, [&](SwitchAt it) {
               return at[static_cast<std::size_t>(it.by)] == it.position;
             }) > 1;
    });
  }

  const Movement& movement_;
  std::vector<std::size_t> group_;
  Count total_;
};

}  // namespace

Count count_situations(const Movement& movement, std::size_t sources) {
  return Counter(movement, sources).run();
}

}  // namespace linewright::network
