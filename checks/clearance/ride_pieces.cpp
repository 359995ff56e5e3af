#include "checks/clearance/ride_pieces.hpp"

#include <algorithm>

namespace evenclose {

std::vector<Travel> stops_of_rides(const SweptBody& first, const SweptBody& second, Travel from, Travel to) {
    std::vector<Travel> stops{from, to};
    for (const SweptBody* body : {&first, &second}) {
        if (body->ride != nullptr) {
            for (const RideKnot& knot : body->ride->knots) {
                if (from < knot.at && knot.at < to) {
                    stops.push_back(knot.at);
                }
            }
        }
    }
    std::sort(stops.begin(), stops.end());
    if (stops.size() > 2) {
        stops.erase(std::unique(stops.begin(), stops.end()), stops.end());
        if (stops.size() == 1) {
            stops.push_back(stops.front());
        }
    }
    return stops;
}

} // namespace evenclose
