// Which known word the user most likely meant.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linewright::input {

/// Words as they are compared: lower case, hyphens and underscores as single spaces.
std::string plain(std::string_view words);

/// Those of the known words that are nearest to the one written, best first, at most three; none
/// where nothing is near.
std::vector<std::string> nearest(std::string_view written, std::span<const std::string_view> known);

/// "did you mean 'feed'?", or `otherwise` where no known word is near.
std::string did_you_mean(std::string_view written, std::span<const std::string_view> known,
                         std::string_view otherwise);

}  // namespace linewright::input
