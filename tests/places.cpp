#include "tests/places.hpp"

namespace evenclose::test {

std::string source_folder() { return EVENCLOSE_SOURCE_DIR; }
std::string build_folder() { return EVENCLOSE_BUILD_DIR; }
std::string demo(const std::string& name) { return build_folder() + "/demo/" + name; }

} // namespace evenclose::test
