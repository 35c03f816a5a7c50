// One figure of a site: a value with its limit, and how it came about.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "electrical/judgement.hpp"
#include "site/site.hpp"
#include "units/quantity.hpp"

namespace linewright::figures {

/// What a figure says.
enum class What {
  current,           ///< of the most loaded line, all that is declared running
  neutral_current,   ///< the same of the neutral
  feed_current,      ///< of the most loaded line while sources that follow give all they can
  protection,        ///< Ib <= In
  capacity,          ///< In <= Iz
  operates_in_time,  ///< I2 <= 1.45 Iz
  drop,              ///< from the source to a load
  rise               ///< from the source that makes the voltage to one that follows it
};

/// A key of the site file that is missing, and what it is a key of.
struct Missing {
  std::string key;
  std::string of;
  friend bool operator==(const Missing&, const Missing&) = default;
};

/// A current, or a share such as 0.03 for 3 %.
using Amount = std::variant<Current, double>;

/// The element or the cable that a figure is about; just one of the two.
struct About {
  std::size_t element = site::none;
  std::size_t run = site::none;
  friend bool operator==(const About&, const About&) = default;
};

/// A figure in one state. Without a value it says in `missing` or `why_not` what it lacks.
struct Figure {
  What what = What::current;
  About about;
  std::size_t state = 0;  ///< index into the states of the site
  std::optional<Amount> value;
  std::optional<Amount> limit;
  electrical::Judgement holds = electrical::Judgement::unknown;  ///< where there is a limit
  std::string working;           ///< the formula with the numbers put in
  std::string source;            ///< where the formula or the limit is from
  std::vector<Missing> missing;  ///< what the file would have to say
  std::string why_not;           ///< any other reason why there is no value
};

}  // namespace linewright::figures
