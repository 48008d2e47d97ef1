#pragma once

namespace boxroom {

/// What a reduced room is made of, and how far it may be off.
struct ReducedReport {
    int unknowns = 0;      ///< of the elements
    int functions = 0;     ///< of the basis
    int places = 0;        ///< that it has learnt
    double change_db = 0;  ///< by which the last two full solutions, where most was left over,
                           ///< still moved a level over the floor, at most (nulls 15 dB under the
                           ///< median left out), and no less than the parts that are left out of
                           ///< each make: what is left is less
};

}  // namespace boxroom
