#include "checks/report/markup.hpp"

#include <doctest/doctest.h>

namespace evenclose {

TEST_CASE("base64: the test vectors of RFC 4648, section 10") {
    CHECK(base64("").empty());
    CHECK(base64("f") == "Zg==");
    CHECK(base64("fo") == "Zm8=");
    CHECK(base64("foo") == "Zm9v");
    CHECK(base64("foob") == "Zm9vYg==");
    CHECK(base64("fooba") == "Zm9vYmE=");
    CHECK(base64("foobar") == "Zm9vYmFy");
    CHECK(base64(std::string_view("\xff\x00\xfe", 3)) == "/wD+");
}

TEST_CASE("escaped: what XML 1.0 gives a meaning to is written as a reference, control characters are left out") {
    CHECK(escaped("<b a=\"1\" c='2'>&amp;") == "&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp;amp;");
    CHECK(escaped(std::string_view("a\x01\x1f\nb\0c", 7)) == "a\nbc");
    CHECK(escaped("Größe ½") == "Größe ½");
}

} // namespace evenclose
