#include "checks/print/plastic.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace evenclose {
namespace {

std::string bare(const std::string& word) {
    std::string letters;
    for (const char c : word) {
        if (std::isalnum(static_cast<unsigned char>(c)) != 0) {
            letters += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        }
    }
    return letters;
}

} // namespace

double Plastic::crushes_at_MPa(double fill) const {
    constexpr double kAt20 = 13.7;
    constexpr double kAt50 = 36.4;
    const double pla = fill < 0.2 ? kAt20 * std::pow(fill / 0.2, 1.5) : kAt20 + (kAt50 - kAt20) * (fill - 0.2) / 0.3;
    return strength_of_pla * pla;
}

double Plastic::stiffness_MPa(double fill, double walls) const { return E_MPa * (walls + (1 - walls) * fill * fill); }

const std::vector<Plastic>& plastics() {
    static const std::vector<Plastic> list{
        {"PLA", 1240, 50, 1.0, 3000}, {"PETG", 1270, 75, 0.75, 2000}, {"ABS", 1040, 100, 0.7, 2000}};
    return list;
}

const Plastic* find_plastic(const std::string& word) {
    const auto found = std::find_if(plastics().begin(), plastics().end(),
                                    [&](const Plastic& plastic) { return bare(plastic.name) == bare(word); });
    return found == plastics().end() ? nullptr : &*found;
}

} // namespace evenclose
