// What no rule looks at yet; every report says so.
#pragma once

#include <array>
#include <string_view>

namespace linewright::rules {

/// Parts of the job that only a person has looked at so far, in plain words.
inline constexpr std::array<std::string_view, 7> not_checked{
    "cable sizes, voltage drop and rise",
    "fault currents, breaking capacity, disconnection times",
    "what the backup side can carry and for how long, unbalance and load steps included",
    "the direct-current side",
    "surge protection",
    "signal wiring",
    "everything that only tests on site can show",
};

}  // namespace linewright::rules
