#pragma once

/// One LiveRoom and the numbers it answered last.
struct LiveHandle;

extern "C" {

/// Room for `count` numbers, to be given to live_open, live_balance, live_set_part or
/// live_set_wall_branches, which free it.
double* live_numbers(int count);
/// From flat_scenario's numbers.
LiveHandle* live_open(const double* numbers, int count);
void live_close(LiveHandle* handle);

void live_set_seat(LiveHandle* handle, int seat, double x, double y, double z);
/// Walls have the numbers of room_surfaces().
void live_set_wall_absorption(LiveHandle* handle, int wall, double absorption);
/// `branches` times R, M, K.
void live_set_wall_branches(LiveHandle* handle, int wall, const double* numbers, int branches);
/// So many m2 of the wall, as it was set last, are this instead; freed as above.
void live_set_part(LiveHandle* handle, int wall, const double* numbers, int branches, double area);
void live_set_softness(LiveHandle* handle, double factor);
void live_set_box(LiveHandle* handle, double net_volume, double filling);
/// How many branches a wall has as it is now, then R, M, K of each. Until the next call.
const double* live_wall(LiveHandle* handle, int wall);
/// Centre of a sub's box on the floor; facing as in base/sides.hpp.
void live_set_place(LiveHandle* handle, int sub, double x, double y, int facing);
/// Gain [dB], delay [s] and polarity (1 or -1) of a sub.
void live_set_dial(LiveHandle* handle, int sub, double gain_db, double delay, int polarity);

/// How many subs (Q), F, S, Qtc, fc, F3, whether it is a draft; of each seat x y z; of each sub
/// whether it fits, footprint x y, middle of the cone x y z, facing, width depth height as it
/// stands; the criteria that stand on pages, in the order of results/criterion.hpp; then the seats'
/// levels (S times F), seat average, half space, target, spread and lift (F each). Until the next
/// call.
const double* live_answer(LiveHandle* handle);
/// Whether the seats where they are were learnt.
int live_learnt(const LiveHandle* handle);
/// Learns them; told the share that is done. Closed rectangles know all.
void live_learn(LiveHandle* handle, void (*tell)(double));
/// What was learnt, for another engine, and how many bytes it is; until more is learnt.
const char* live_kept(const LiveHandle* handle);
int live_kept_size(const LiveHandle* handle);
/// Room for `size` bytes that another engine has kept, and whether they were taken.
char* live_bytes(LiveHandle* handle, int size);
int live_take(LiveHandle* handle);

/// Balance of the boxes with these Qtc here: `count` in the room, then `count` in half space.
const double* live_balance(LiveHandle* handle, const double* qtc, int count);
/// nx, ny, x0, y0, dx, dy, then nx times ny spreads by where this sub stands, -1 where none can.
const double* live_map(LiveHandle* handle, int sub, double step);
/// What is to be said of the room's decay, a sentence a line, UTF-8. Until the next call of it.
const char* live_decay(LiveHandle* handle);
}
