#include "findings/utf8.hpp"

#include <string>

#include <catch2/catch.hpp>

using namespace linewright::findings;

TEST_CASE("utf8: well-formed text is accepted, broken text is not") {
  CHECK(is_utf8(""));
  CHECK(is_utf8("mm² Ω 名 🔌"));
  for (const char* broken : {"\xff", "\xc3", "\xc0\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80",
                             "\xe2\x28\xa1", "a\x80z", "\xf0\x9f\x94"}) {
    CAPTURE(broken);
    CHECK_FALSE(is_utf8(broken));
  }
}

TEST_CASE("utf8: characters are counted, broken bytes one by one") {
  CHECK(count_characters("mm²") == 3);
  CHECK(count_characters("🔌x") == 2);
  CHECK(count_characters("\xff\xfe") == 2);
}

TEST_CASE("utf8: what could forge a terminal is replaced and the rest kept") {
  CHECK(shown_safely("a\tb é Ω") == "a\tb é Ω");
  CHECK(shown_safely("a\x1b[0m") == "a\uFFFD[0m");
  CHECK(shown_safely("\u202Eabc") == "\uFFFDabc");
  CHECK(shown_safely(std::string("a\0b", 3)) == "a\uFFFDb");
  CHECK(shown_safely("\xc2\x9b") == "\uFFFD");
  CHECK(shown_safely("line\nnext") == "line\uFFFDnext");
}
