/* The bare store in C, step for step as tlib.simulation.bare steps it: what a hand-written program would need.
 *
 * Left out is what the benchmark's store has none of: jets and stratifying pipes. Built and called by engine_speed.py.
 */

#include <math.h>
#include <stdint.h>

#define SPECIFIC_HEAT 4186.8 /* J/(kg K) */
#define INVERTED 1e-12       /* K */

typedef struct {
    double mass, capacity, link; /* kg and J/K of one layer; W/K through a face */
} Tank;

typedef struct {
    int64_t drawn_from, returned_to;
    double flow, inlet, heat, leaving; /* kg/s, degree C, J, degree C */
} Loop;

typedef struct {
    int64_t first, last;
    double flow, inlet; /* kg/s, degree C */
} Coil;

typedef struct {
    double *face, *carried, *slope; /* net upward flow through a face; what crosses it; one number a layer */
} Work;

static double share_taken_up(double conductance, double rate) { return -expm1(-conductance / rate); }

/* Return the heat that the coil took [J]. */
static double march_coil(double *layers, const double *conductance, const Coil *coil, double span, double capacity)
{
    if (coil->flow <= 0.0)
        return 0.0;
    double rate = coil->flow * SPECIFIC_HEAT, fluid = coil->inlet, taken = 0.0;
    double share = 0.0, given = 0.0, seen = 0.0;
    int64_t stride = coil->last >= coil->first ? 1 : -1;
    for (int64_t i = coil->first; i != coil->last + stride; i += stride) {
        if (conductance[i] != seen) {
            seen = conductance[i];
            share = share_taken_up(rate * share_taken_up(seen, rate) * span, capacity);
            given = share * capacity / (rate * span);
        }
        double gap = fluid - layers[i];
        layers[i] += gap * share;
        fluid -= gap * given;
        taken -= gap * share * capacity;
    }
    return taken;
}

static void heat_elements(double *layers, int64_t n, const double *shares, const double *powers, int64_t elements,
                          double step, double capacity)
{
    for (int64_t e = 0; e < elements; e++) {
        if (powers[e] == 0.0)
            continue;
        double rise = powers[e] * step / capacity;
        for (int64_t i = 0; i < n; i++)
            layers[i] += shares[e * n + i] * rise;
    }
}

/* Return what comes into a layer by its faces and ports [kg/s]. */
static double through(const Loop *loops, int64_t count, int64_t layer, Work work)
{
    double up = work.face[layer], down = work.face[layer + 1];
    double flow = (up > 0.0 ? up : 0.0) - (down < 0.0 ? down : 0.0);
    for (int64_t k = 0; k < count; k++)
        if (loops[k].returned_to == layer)
            flow += loops[k].flow;
    return flow;
}

/* Fill in the net upward flow through each face; return the largest flow through a layer [kg/s]. */
static double face_flows(const Loop *loops, int64_t count, int64_t lowest, int64_t highest, Work work)
{
    for (int64_t i = lowest; i < highest + 2; i++)
        work.face[i] = 0.0;
    for (int64_t k = 0; k < count; k++) {
        int64_t low = loops[k].drawn_from, high = loops[k].returned_to;
        double flow = -loops[k].flow;
        if (flow == 0.0)
            continue;
        if (low > high) {
            int64_t other = low;
            low = high, high = other, flow = -flow;
        }
        for (int64_t i = low + 1; i <= high; i++)
            work.face[i] += flow;
    }
    double most = 0.0;
    for (int64_t k = 0; k < count; k++) { /* between ports the flow through a layer cannot change */
        if (loops[k].flow <= 0.0)
            continue;
        double drawn = through(loops, count, loops[k].drawn_from, work);
        double home = through(loops, count, loops[k].returned_to, work);
        most = drawn > most ? drawn : most;
        most = home > most ? home : most;
    }
    work.carried[lowest] = work.carried[highest + 1] = 0.0;
    return most;
}

static void set_slopes(const double *layers, int64_t n, int64_t lowest, int64_t highest, Work work)
{
    work.slope[lowest] = work.slope[highest] = 0.0;
    int64_t from = lowest > 1 ? lowest : 1, to = highest < n - 2 ? highest : n - 2;
    for (int64_t i = from; i <= to; i++) {
        double below = layers[i] - layers[i - 1], above = layers[i + 1] - layers[i];
        double steep = fabs(below) < fabs(above) ? 2.0 * fabs(below) : 2.0 * fabs(above);
        double mean = 0.5 * fabs(below + above);
        work.slope[i] = 0.5 * (copysign(1.0, below) + copysign(1.0, above)) * (steep < mean ? steep : mean);
    }
}

static void set_carried(const double *layers, double share, int64_t lowest, int64_t highest, Work work)
{
    for (int64_t i = lowest + 1; i <= highest; i++) {
        double up = work.face[i] > 0.0 ? work.face[i] : 0.0, down = work.face[i] < 0.0 ? work.face[i] : 0.0;
        double rising = layers[i - 1] + 0.5 * (1.0 - up * share) * work.slope[i - 1];
        double sinking = layers[i] - 0.5 * (1.0 + down * share) * work.slope[i];
        work.carried[i] = up * rising + down * sinking;
    }
}

static void advect(double *layers, int64_t n, const Tank *tank, Loop *loops, int64_t count, double step, Work work)
{
    int64_t lowest = 1000000, highest = -1;
    for (int64_t k = 0; k < count; k++) {
        loops[k].heat = 0.0;
        if (loops[k].flow <= 0.0)
            continue;
        int64_t a = loops[k].drawn_from, b = loops[k].returned_to, low = a < b ? a : b, high = a < b ? b : a;
        lowest = low < lowest ? low : lowest;
        highest = high > highest ? high : highest;
    }
    if (highest < lowest)
        return;
    double pieces = ceil(face_flows(loops, count, lowest, highest, work) * step / tank->mass - 1e-9);
    pieces = pieces < 1.0 ? 1.0 : pieces;
    double part = step / pieces, share = part / tank->mass;
    for (int64_t piece = 0; piece < (int64_t)pieces; piece++) {
        set_slopes(layers, n, lowest, highest, work);
        for (int64_t k = 0; k < count; k++) {
            if (loops[k].flow > 0.0) {
                work.slope[loops[k].drawn_from] = 0.0;
                loops[k].leaving = layers[loops[k].drawn_from];
            }
        }
        set_carried(layers, share, lowest, highest, work);
        for (int64_t i = lowest; i <= highest; i++)
            layers[i] += share * (work.carried[i] - work.carried[i + 1]);
        for (int64_t k = 0; k < count; k++) {
            Loop *loop = &loops[k];
            if (loop->flow > 0.0) {
                layers[loop->drawn_from] -= share * loop->flow * loop->leaving;
                layers[loop->returned_to] += share * loop->flow * loop->inlet;
                loop->heat += loop->flow * part * SPECIFIC_HEAT * (loop->inlet - loop->leaving);
            }
        }
    }
}

/* Return the sum of numbers, added in four strands. */
static double sum_of(const double *numbers, int64_t count)
{
    double a = 0.0, b = 0.0, c = 0.0, d = 0.0;
    int64_t i = 0;
    for (; i + 3 < count; i += 4)
        a += numbers[i], b += numbers[i + 1], c += numbers[i + 2], d += numbers[i + 3];
    for (; i < count; i++)
        a += numbers[i];
    return (a + b) + (c + d);
}

/* Return the heat lost [J]. */
static double conduct_and_lose(double *layers, int64_t n, const Tank *tank, const double *loss, double room, double step,
                               Work work)
{
    double worst = 2.0 * tank->link + (loss[0] > loss[n - 1] ? loss[0] : loss[n - 1]);
    double parts = ceil(2.0 * worst * step / tank->capacity);
    parts = parts < 1.0 ? 1.0 : parts;
    double part = step / parts, lost = 0.0;
    work.carried[0] = work.carried[n] = 0.0;
    for (int64_t piece = 0; piece < (int64_t)parts; piece++) {
        for (int64_t i = 1; i < n; i++)
            work.carried[i] = tank->link * (layers[i - 1] - layers[i]);
        for (int64_t i = 0; i < n; i++) {
            work.slope[i] = loss[i] * (layers[i] - room);
            layers[i] += part / tank->capacity * (work.carried[i] - work.carried[i + 1] - work.slope[i]);
        }
        lost += part * sum_of(work.slope, n);
    }
    return lost;
}

static void merge(double *layers, int64_t n)
{
    int64_t last = n - 1, layer = 0;
    while (layer < last) {
        if (layers[layer] <= layers[layer + 1] + INVERTED) {
            layer++;
            continue;
        }
        int64_t lowest = layer, highest = layer + 1, grows = 1;
        double total = layers[lowest] + layers[highest], count = 2.0;
        while (grows) {
            grows = 0;
            while (lowest > 0 && layers[lowest - 1] * count > total)
                total += layers[--lowest], count += 1.0, grows = 1;
            while (highest < last && layers[highest + 1] * count < total)
                total += layers[++highest], count += 1.0, grows = 1;
        }
        for (int64_t i = lowest; i <= highest; i++)
            layers[i] = total / count;
        layer = highest;
    }
}

void march_store(double *layers, int64_t n, const Tank *tank, const double *loss, Loop *loops, int64_t loop_count,
                 const Coil *coils, int64_t coil_count, const double *conductance, const double *shares,
                 const double *powers, int64_t elements, double room, double step, double *room_to_work, double *log,
                 double *heats, int64_t steps)
{
    Work work = {room_to_work, room_to_work + n + 1, room_to_work + 2 * (n + 1)};
    int64_t parts = loop_count + coil_count + elements + 1;
    for (int64_t k = 0; k < steps; k++) {
        double *row = heats + k * parts;
        for (int64_t c = 0; c < coil_count; c++)
            row[loop_count + c] = -march_coil(layers, conductance + c * n, &coils[c], step, tank->capacity);
        heat_elements(layers, n, shares, powers, elements, step, tank->capacity);
        for (int64_t e = 0; e < elements; e++)
            row[loop_count + coil_count + e] = powers[e] * step;
        advect(layers, n, tank, loops, loop_count, step, work);
        for (int64_t i = 0; i < loop_count; i++)
            row[i] = loops[i].heat;
        row[parts - 1] = -conduct_and_lose(layers, n, tank, loss, room, step, work);
        merge(layers, n);
        for (int64_t i = 0; i < n; i++)
            log[(k + 1) * n + i] = layers[i];
    }
}
