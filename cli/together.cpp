#include "cli/together.hpp"

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <system_error>
#include <thread>

namespace linewright::cli {

void do_together(const std::vector<std::function<void()>>& work, unsigned workers) {
  std::atomic<std::size_t> next = 0;
  const auto take = [&] {
    for (std::size_t i = next++; i < work.size(); i = next++)
      work[i]();
  };
  std::vector<std::jthread> others;
  const std::size_t most = std::min<std::size_t>(workers, work.size());
  try {
    while (others.size() + 1 < most)
      others.emplace_back(take);
  } catch (const std::system_error&) {  // NOLINT(bugprone-empty-catch): those begun and this one do
  }
  take();
}

unsigned workers_for_computing() {
  return std::max(1U, std::thread::hardware_concurrency());
}

}  // namespace linewright::cli
