/* The hourly balance of this package in C, for its speed and as a second
 * opinion: the same bands, steps, equations and hours that go by at once (skip.c),
 * drainage (law.c) and spells (spells.c), written for it by hand. See the Go files for
 * what they mean and where they come from.
 *
 * Standard input: bands, days, hours run unseen before, years, rounds; field,
 * sat, where air gets short, taw, seep (mm, mm/h), mix rate, Kc; area at the bottom, half way up and
 * at the spill (m2), depth (mm); roof (m2), its coefficient and loss (mm); then
 * foot, top (mm) and m3 of 1 mm for each band; the day after each year; then of
 * each day ET0, p, whether plants grow and whether its gaps end dry spells, and
 * of its hours rain, et0, whether the rain is missing and ends wet spells.
 * Standard output: nanoseconds an hour, in processor time, without and with
 * spells, medians of the rounds; in m3 rain on the bed, runoff, infiltrated,
 * evaporated, overflow, stored change; and sums over bands and years of the
 * longest wet hours, all wet hours, longest dry hours, dry days, mm offered and
 * hours above each level.
 *
 * Built by TestSameInC:  cc -O2 -o model model.c -lm  */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

enum { MOST = 64, YEARS = 64, LEVELS = 24, CELLS = 32, STEPS = 256, FINEST = 5, PIECES = 32, CELLSOFLAW = 128 };

static const double WET = 0.95, DORMANT = 1.0 / 3;

struct change { double after, in, seeped; };
struct place {
	double foot, top, perMM, m3, held, intake, seeped, used;
	double under, rain, offered, taken;
	int solved;
	struct change taking;
};
struct total { struct change c; double used; };
struct step { double decay, gain; };
struct pace { int steps, known; double hours, perH; struct step step[PIECES + 2]; };
struct cell { double from, to, a, p, q, v, h, end, perM3, s1, s2, s3; int even; };

struct day { double et0, p; int growing, gap, rainless, lost; };

static struct place place[MOST];
static int n, days;
static struct day *day;
static double watch, airPoor; /* mm: from which hours are looked at one by one */
static double field, sat, taw, seep, mix, kc, fadeX, fadeY;
static double roof, coefficient, loss, wetting;
static double low, spill, film, bed;
static struct cell cell[CELLS];
static int byVolume[STEPS + 1];
static double perM3;
static struct pace paces[FINEST + 1], calm, whole, *ponded;
static double pond, level;
static int wetted, reach, moved, draining;
static double leftM3;
static double rained, runoff, infiltrated, evaporated, overflow;

static inline double least(double a, double b) { return a < b ? a : b; }
static inline double most(double a, double b) { return a > b ? a : b; }

static void makeTable(double a0, double a1, double a2)
{
	double rise = a2 - a0, q = 2 * (a0 + a2 - 2 * a1), p = rise - q, v = 0;
	for (int i = 0; i < CELLS; i++) {
		double u = (double)i / CELLS;
		struct cell *c = &cell[i];
		c->from = low * (1 - u);
		c->to = low * (1 - (double)(i + 1) / CELLS);
		c->a = a0 + u * (p + u * q);
		c->p = (p + 2 * q * u) / CELLS;
		c->q = q / (CELLS * CELLS);
		c->h = (c->to - c->from) / 1000;
		c->v = v;
		double middle = c->a + c->p / 2 + c->q / 3, end = c->a + c->p + c->q;
		c->end = v = c->v + c->h * middle;
		c->perM3 = 1 / (c->h * middle);
		if ((c->even = end < 3 * c->a)) {
			double m0 = middle / c->a, m1 = middle / end;
			c->s1 = m0;
			c->s2 = 3 - 2 * m0 - m1;
			c->s3 = m0 + m1 - 2;
		}
	}
	spill = v;
	perM3 = STEPS / spill;
	for (int i = 0, k = 0; i <= STEPS; i++) {
		while (k + 1 < CELLS && cell[k].end <= i / perM3)
			k++;
		byVolume[i] = k > 0 ? k - 1 : 0;
	}
}

static double levelOf(double volume)
{
	if (volume <= film)
		return place[0].foot;
	if (volume >= spill)
		return 0;
	int i = byVolume[(int)(volume * perM3)];
	while (cell[i].end < volume)
		i++;
	const struct cell *c = &cell[i];
	double share = (volume - c->v) * c->perM3;
	double y = share * (c->a + c->p / 2 + c->q * (1. / 3));
	double u = c->even ? share * (c->s1 + share * (c->s2 + share * c->s3)) : 2 * y / (c->a + sqrt(c->a * c->a + 2 * most(0, c->p) * y));
	double enough = c->even ? 1e-7 : 1e-10;
	for (int k = 0; k < 60; k++) {
		double step = (u * (c->a + u * (c->p / 2 + u * c->q * (1. / 3))) - y) / (c->a + u * (c->p + u * c->q));
		u -= step;
		if (fabs(step) <= enough)
			break;
	}
	return most(c->from, least(c->to, c->from + u * (c->to - c->from)));
}

#include "law.c"

static inline void settle(struct place *p, double held, double in, double seeped, double used)
{
	p->held = held;
	p->intake += in;
	p->seeped += seeped;
	p->used += used;
}

static inline void lose(double seeped, double used)
{
	infiltrated += seeped;
	evaporated += used;
}

static void calmStep(double rain, double inflow, double demand, double share)
{
	draining = 0;
	double last = NAN, used = 0, seepedM3 = 0, usedM3 = 0;
	struct change c = {0, 0, 0};
	for (int i = 0; i < n; i++) {
		struct place *p = &place[i];
		double offered = i == 0 ? rain + inflow / p->m3 : rain;
		if (p->held != last || (i == 1 && inflow > 0)) {
			last = p->held;
			c = advance(p->held, offered / calm.hours, demand, share, &calm, &used);
			draining = draining || c.after > field;
		}
		settle(p, c.after, c.in, c.seeped, used);
		seepedM3 += c.seeped * p->m3;
		usedM3 += used * p->m3;
		pond += (offered - c.in) * p->m3;
	}
	lose(seepedM3, usedM3);
}

#include "skip.c"
#include "pond.c"

static int takesAll(double rain, double inflow)
{
	if (rain == 0)
		return 1;
	for (int i = 0; i < n; i++) {
		double offered = i == 0 ? rain + inflow / place[0].m3 : rain;
		if (offered > mix || offered > sat - place[i].held)
			return 0;
	}
	return 1;
}

static void move(double rain, double inflow, double demand, double p)
{
	forget();
	rained += rain * bed;
	if (!(pond > film) && takesAll(rain, inflow)) {
		if (rain == 0 && demand == 0 && !draining)
			return;
		moved = 1;
		for (int k = 0; k < calm.steps; k++)
			calmStep(rain * calm.hours, inflow * calm.hours, demand * calm.hours, p);
		return;
	}
	moved = draining = 1;
	double comes = inflow + rain * bed, goes = 0;
	for (int i = 0; i < n; i++) {
		if (i > 0 && place[i].foot >= level)
			break;
		goes += least(mix, sat - place[i].held + seep) * place[i].m3;
	}
	double parts = most(comes, goes) / (spill / 32);
	int k = 1;
	while (k < FINEST && (double)(1 << k) < parts)
		k++;
	ponded = &paces[k];
	aboveWater(rain, inflow, demand, p);
	besideWater(rain * ponded->hours, demand * ponded->hours, p);
	for (k = 0; k < ponded->steps; k++)
		pondStep(rain * ponded->hours, inflow * ponded->hours, demand * ponded->hours, p);
}

static double stored(void)
{
	double total = pond;
	for (int i = 0; i < n; i++)
		total += place[i].held * place[i].m3;
	return total;
}

#include "spells.c"

static struct pace paceOf(int steps)
{
	struct pace p = {.steps = steps, .hours = 1.0 / steps, .perH = steps, .known = 1};
	for (int i = 0; i < pieces; i++)
		p.step[i] = stepOf(&piece[i], p.hours);
	return p;
}

/* today works out what a day's hours bring from the roof and ask for. */
static void today(const struct day *d, const double *rain, const double *et0, double *inflow, double *demand)
{
	for (int h = 0; h < 24; h++)
		demand[h] = kc * et0[h];
	if (d->rainless) {
		memset(inflow, 0, 24 * sizeof *inflow);
		wetting = least(loss, wetting + d->et0);
		return;
	}
	for (int h = 0; h < 24; h++) {
		double wet = least(wetting, rain[h]);
		inflow[h] = (rain[h] - wet) * coefficient * roof / 1000;
		wetting = least(loss, wetting - wet + et0[h]);
		runoff += inflow[h];
	}
}

static void run(int to, int seen)
{
	double inflow[24], demand[24];
	for (int d = 0; d < to; d++) {
		const double *r = rain + 24 * d;
		if (day[d].rainless && dryDay(&day[d])) {
			if (seen)
				follow(24 * d, 24 * d + 24);
			continue;
		}
		today(&day[d], r, et0 + 24 * d, inflow, demand);
		for (int h = 0, next; h < 24; h = next) {
			next = h + skip(24 - h, r + h, inflow + h, demand + h, day[d].p);
			if (next == h) {
				move(r[h], inflow[h], demand[h], day[d].p);
				next++;
			}
			if (seen)
				follow(24 * d + h, 24 * d + next);
		}
	}
}

/* once runs the whole record and returns its processor time, ns. */
static double once(int before, int spells, double *change)
{
	double begun = processor();
	pond = 0;
	level = place[0].foot;
	wetting = loss;
	moved = draining = 0;
	for (int i = 0; i < n; i++)
		place[i].held = field;
	if (spells)
		clearSpells();
	run(before, 0);
	rained = runoff = infiltrated = evaporated = overflow = 0;
	double start = stored();
	run(days, spells);
	if (spells)
		keepAllWet();
	*change = stored() - start;
	return processor() - begun;
}

static int smaller(const void *a, const void *b)
{
	double d = *(const double *)a - *(const double *)b;
	return (d > 0) - (d < 0);
}

int main(void)
{
	int before, rounds;
	double a0, a1, a2, depth, change = 0;
	if (scanf("%d %d %d %d %d %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf", &n, &days, &before, &years, &rounds, &field, &sat, &airPoor, &taw, &seep, &mix, &kc, &a0, &a1, &a2, &depth, &roof, &coefficient, &loss) != 19 || n > MOST || years > YEARS || rounds > 99)
		return 1;
	low = -depth;
	watch = least(WET * sat, airPoor);
	makeLaw(mix, seep);
	seep = least(seep, mix);
	makeTable(a0, a1, a2);
	film = 1e-6 * spill;
	for (int k = 0; k <= FINEST; k++)
		paces[k] = paceOf(1 << k);
	calm = whole = paces[0];
	for (int i = 0; i < n; i++) {
		if (scanf("%lf %lf %lf", &place[i].foot, &place[i].top, &place[i].m3) != 3)
			return 1;
		bed += place[i].m3;
		place[i].perMM = 1 / (place[i].top - place[i].foot);
	}
	if (!readRecord())
		return 1;
	double took[2][99];
	for (int round = 0; round < rounds; round++)
		for (int spells = 0; spells < 2; spells++)
			took[spells][round] = once(before, spells, &change);
	for (int spells = 0; spells < 2; spells++) {
		qsort(took[spells], rounds, sizeof(double), smaller);
		printf("%.4f ", took[spells][rounds / 2] / (24.0 * (days + before)));
	}
	printf("%.12g %.12g %.12g %.12g %.12g %.12g\n", rained, runoff, infiltrated, evaporated, overflow, change);
	printSpells();
	return 0;
}
