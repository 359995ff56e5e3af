#include "checks/report/cautions.hpp"

namespace evenclose {

const std::vector<std::string>& cautions() {
    static const std::vector<std::string> sentences{
        "Hands out before it moves.",
        "Nothing holds up the platen while you reach in but the block you put there.",
        "A jack that leaks lowers the platen.",
        "Glue squeezes out, so do splinters: wear glasses.",
        "Stand beside, not in front of, a loaded timber.",
    };
    return sentences;
}

const std::string& disclaimer() {
    // ISO 19085-15: woodworking machines, safety, presses (cold, hot, bending; intermediate platens).
    static const std::string sentence =
        "These are planning figures, no approval: they assume sound timber and full-size welds. The press itself is a "
        "matter of ISO 19085-15 (woodworking presses), your local codes and a licensed engineer, who should look "
        "before "
        "people stand near it.";
    return sentence;
}

} // namespace evenclose
