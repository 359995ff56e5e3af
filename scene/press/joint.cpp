#include "scene/press/press.hpp"

namespace evenclose {

const char* name_of(JointKind kind) {
    switch (kind) {
    case JointKind::welded:
        return "welded";
    case JointKind::bolted:
        return "bolted";
    case JointKind::bearing:
        return "bearing";
    case JointKind::none:
        return "none";
    }
    return "";
}

} // namespace evenclose
