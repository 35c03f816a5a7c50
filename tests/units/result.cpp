#include "units/result.hpp"

#include <catch2/catch.hpp>

using linewright::fail;
using linewright::Result;

TEST_CASE("result: a failure keeps its words") {
  const Result<int> result = fail("no such thing");
  REQUIRE_FALSE(result.has_value());
  CHECK(result.error().message == "no such thing");
}
