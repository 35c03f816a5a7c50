// Several pieces of work at a time.
#pragma once

#include <functional>
#include <vector>

namespace linewright::cli {

/// Does every piece of work on up to `workers` threads, this one among them, begun in their order;
/// returns when all are done. Where the machine gives no further thread, this one does them alone.
void do_together(const std::vector<std::function<void()>>& work, unsigned workers);

/// As many workers as there are cores.
unsigned workers_for_computing();

}  // namespace linewright::cli
