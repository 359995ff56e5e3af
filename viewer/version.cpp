#include "viewer/version.hpp"

namespace evenclose {

const char* version() { return EVENCLOSE_VERSION; }

} // namespace evenclose
