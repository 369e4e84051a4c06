/* The hourly balance of this package in C, for its speed and as a second
 * opinion: the same bands, steps and equations, written for it by hand. See
 * the Go files for what they mean and where they come from.
 *
 * Standard input: bands, hours, hours run unseen before; field, sat, taw, seep
 * (mm, mm/h), mix rate, Kc; area at the bottom, half way up and at the spill
 * (m2), depth (mm); roof (m2), its coefficient and loss (mm); then foot, top
 * (mm) and m3 of 1 mm for each band; then rain, et0 (mm) and p of each hour.
 * Standard output: nanoseconds an hour, and in m3 rain on the bed, runoff,
 * infiltrated, evaporated, overflow, stored change.
 *
 * Built by TestSameInC:  cc -O2 -o model model.c -lm  */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { MOST = 64, CELLS = 32, STEPS = 256, FINEST = 5 };

struct change { double after, in, seeped; };
struct place {
	double foot, top, m3, held, intake, seeped, used;
	double under, feed, offered;
	struct change taking;
	int weighed;
};
struct pace { int steps; double hours, decay; };
struct cell { double from, to, a, p, q, v, h, end, perM3, s1, s2, s3; int even; };

static struct place place[MOST];
static int n;
static double field, sat, taw, seep, mix, kc, drain, fadeX, fadeY;
static double roof, coefficient, loss, wetting;
static double low, spill, film, bed;
static struct cell cell[CELLS];
static int byVolume[STEPS + 1];
static double perM3;
static struct pace paces[FINEST + 1], calm, *ponded;
static double pond, level;
static int wetted, moved, draining;
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

static struct change absorb(double held, double offered, double hours, double decay)
{
	double in = 0;
	if (held < field) {
		double room = field - held;
		if (offered * hours <= room) {
			in = offered * hours;
			return (struct change){held + in, in, 0};
		}
		in = room;
		held = field;
		hours -= room / offered;
		decay = exp(-drain * hours);
	}
	if (seep == 0) {
		double add = least(offered * hours, sat - held);
		return (struct change){held + add, in + add, 0};
	}
	double goal = field + offered / drain, after = goal + (held - goal) * decay;
	if (after <= sat) {
		double add = offered * hours;
		return (struct change){after, in + add, most(add - (after - held), 0)};
	}
	double full = held < sat ? least(log((held - goal) / (sat - goal)) / drain, hours) : 0;
	double out = most(offered * full - (sat - held), 0), steady = seep * (hours - full);
	return (struct change){sat, in + (sat - held) + out + steady, out + steady};
}

static double fade(double x)
{
	if (x != fadeX) {
		fadeX = x;
		fadeY = -expm1(-x);
	}
	return fadeY;
}

static double use(double held, double demand, double p)
{
	double easy = p * taw - (field - held);
	if (demand <= easy)
		return demand;
	easy = most(easy, 0);
	double left = taw - (field - held) - easy;
	return left <= 0 ? easy : easy + left * fade((demand - easy) / ((1 - p) * taw));
}

static struct change advance(double held, double offered, double demand, double p, double hours, double decay, double *used)
{
	double useH = demand / hours, over = held - field;
	if (offered == 0 && over <= 0) {
		*used = use(held, demand, p);
		return (struct change){held - *used, 0, 0};
	}
	if (offered >= useH && -over <= p * taw) {
		struct change c = absorb(held, offered - useH, hours, decay);
		c.in += demand;
		*used = demand;
		return c;
	}
	if (over > 0 && drain > 0) {
		double goal = (useH - offered) / drain, left = (over + goal) * decay - goal;
		if (left >= 0) {
			double in = offered * hours;
			*used = demand;
			return (struct change){field + left, in, most(over - left + in - demand, 0)};
		}
		double first = least(log1p(over / goal) / drain, hours), more;
		struct change c = advance(field, offered, useH * (hours - first), p, hours - first, 1, &more);
		c.in += offered * first;
		c.seeped += most(over - (useH - offered) * first, 0);
		*used = more + useH * first;
		return c;
	}
	struct change c = absorb(held, offered, hours, decay);
	*used = use((held + c.after) / 2, demand, p);
	c.after -= *used;
	return c;
}

static inline void settle(struct place *p, double held, double in, double seeped, double used)
{
	p->held = held;
	p->intake += in;
	p->seeped += seeped;
	p->used += used;
	infiltrated += seeped * p->m3;
	evaporated += used * p->m3;
}

static void calmStep(double rain, double inflow, double demand, double share)
{
	draining = 0;
	double last = NAN, used = 0;
	struct change c = {0, 0, 0};
	for (int i = 0; i < n; i++) {
		struct place *p = &place[i];
		double offered = i == 0 ? rain + inflow / p->m3 : rain;
		if (p->held != last || (i == 1 && inflow > 0)) {
			last = p->held;
			c = advance(p->held, offered / calm.hours, demand, share, calm.hours, calm.decay, &used);
			draining = draining || c.after > field;
		}
		settle(p, c.after, c.in, c.seeped, used);
		pond += (offered - c.in) * p->m3;
	}
}

static double meanShare(const struct place *p, double from, double to, double limit)
{
	double lo = least(from, to) - p->foot, hi = most(from, to) - p->foot, height = p->top - p->foot, kink = limit * height;
	if (hi <= 0)
		return 0;
	if (lo >= kink)
		return limit;
	if (hi - lo < 1e-6 * height)
		return most(lo, 0) / height;
	double covered = least(hi, kink), sum = covered * covered / (2 * height) + limit * (hi - covered);
	if (lo > 0)
		sum -= lo * lo / (2 * height);
	return sum / (hi - lo);
}

static void cover(double to)
{
	place[0].under = 1;
	place[0].feed = mix;
	double highest = most(level, to);
	for (wetted = 1; wetted < n; wetted++) {
		struct place *p = &place[wetted];
		if (highest <= p->foot)
			break;
		p->under = meanShare(p, level, to, 1);
		p->feed = p->under * mix;
		if (p->under == 1)
			continue;
		double takes = seep + (sat - p->held) / ponded->hours;
		if (takes < mix)
			p->feed = mix * meanShare(p, level, to, takes / mix);
	}
}

static double covered(void)
{
	double total = 0;
	for (int i = 0; i < wetted; i++)
		total += place[i].under * place[i].m3;
	return total;
}

static double weigh(double rain, double open, double inflow, double *wanted)
{
	double atHand = pond + inflow + (rain - open) * bed;
	const struct place *below = NULL;
	*wanted = 0;
	for (int i = 0; i < wetted; i++) {
		struct place *p = &place[i];
		double dry = (1 - p->under) * open, offered = p->feed + dry / ponded->hours;
		if (!p->weighed || p->offered != offered) {
			p->weighed = 1;
			p->offered = offered;
			if (below && below->offered == offered && below->held == p->held)
				p->taking = below->taking;
			else
				p->taking = absorb(p->held, offered, ponded->hours, ponded->decay);
		}
		atHand += (open - dry) * p->m3;
		*wanted += most(p->taking.in - dry, 0) * p->m3;
		below = p;
	}
	return atHand;
}

static void pondStep(double rain, double inflow, double demand, double depletion)
{
	double open = least(rain, mix * ponded->hours), wanted, atHand, share = 1;
	for (int i = 0; i < n; i++)
		place[i].weighed = 0;
	cover(level);
	atHand = weigh(rain, open, inflow, &wanted);
	cover(levelOf(atHand - wanted - demand * covered()));
	atHand = weigh(rain, open, inflow, &wanted);
	if (wanted > atHand)
		share = atHand / wanted;
	for (int i = 0; i < wetted; i++) {
		struct place *p = &place[i];
		double dry = (1 - p->under) * open;
		struct change c = p->taking;
		if (share < 1)
			c = absorb(p->held, (dry + share * most(c.in - dry, 0)) / ponded->hours, ponded->hours, ponded->decay);
		atHand += (dry - c.in) * p->m3;
		settle(p, c.after, c.in, c.seeped, 0);
	}
	double last = NAN, used = 0, left = 0;
	struct change c = {0, 0, 0};
	for (int i = wetted; i < n; i++) {
		struct place *p = &place[i];
		if (p->held != last) {
			last = p->held;
			c = advance(p->held, open / ponded->hours, demand, depletion, ponded->hours, ponded->decay, &used);
		}
		left += (open - c.in) * p->m3;
		settle(p, c.after, c.in, c.seeped, used);
	}
	atHand += left;
	if (demand > 0) {
		double fromPond = demand * covered();
		share = fromPond > atHand ? most(atHand, 0) / fromPond : 1;
		for (int i = 0; i < wetted; i++) {
			struct place *p = &place[i];
			double standing = share * p->under * demand, more = use(p->held, demand - standing, depletion);
			atHand -= standing * p->m3;
			settle(p, p->held - more, standing, 0, standing + more);
		}
	}
	pond = most(atHand, 0);
	if (pond > spill) {
		overflow += pond - spill;
		pond = spill;
	}
	level = levelOf(pond);
}

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

static void hour(double rain, double et0, double p)
{
	if (moved)
		for (int i = 0; i < n; i++)
			place[i].intake = place[i].seeped = place[i].used = 0;
	moved = 0;
	double wet = least(wetting, rain), inflow = (rain - wet) * coefficient * roof / 1000;
	wetting = least(loss, wetting - wet + et0);
	runoff += inflow;
	rained += rain * bed;
	double demand = kc * et0;
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

int main(void)
{
	int hours, before;
	double a0, a1, a2, depth;
	if (scanf("%d %d %d %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf", &n, &hours, &before, &field, &sat, &taw, &seep, &mix, &kc, &a0, &a1, &a2, &depth, &roof, &coefficient, &loss) != 16 || n > MOST)
		return 1;
	low = -depth;
	drain = seep / (sat - field);
	makeTable(a0, a1, a2);
	film = 1e-6 * spill;
	for (int k = 0; k <= FINEST; k++)
		paces[k] = (struct pace){1 << k, 1.0 / (1 << k), exp(-drain / (1 << k))};
	calm = paces[0];
	for (int i = 0; i < n; i++) {
		if (scanf("%lf %lf %lf", &place[i].foot, &place[i].top, &place[i].m3) != 3)
			return 1;
		bed += place[i].m3;
	}
	double *rain = malloc(hours * sizeof *rain), *et0 = malloc(hours * sizeof *et0), *p = malloc(hours * sizeof *p);
	for (int h = 0; h < hours; h++)
		if (!rain || !et0 || !p || scanf("%lf %lf %lf", &rain[h], &et0[h], &p[h]) != 3)
			return 1;
	double best = INFINITY, start = 0;
	for (int round = 0; round < 15; round++) {
		struct timespec a, b;
		clock_gettime(CLOCK_MONOTONIC, &a);
		pond = 0;
		level = place[0].foot;
		wetting = loss;
		moved = draining = 0;
		for (int i = 0; i < n; i++)
			place[i].held = field;
		for (int h = 0; h < before; h++)
			hour(rain[h], et0[h], p[h]);
		rained = runoff = infiltrated = evaporated = overflow = 0;
		start = stored();
		for (int h = 0; h < hours; h++)
			hour(rain[h], et0[h], p[h]);
		clock_gettime(CLOCK_MONOTONIC, &b);
		best = least(best, (b.tv_sec - a.tv_sec) * 1e9 + (b.tv_nsec - a.tv_nsec));
	}
	printf("%.4f %.12g %.12g %.12g %.12g %.12g %.12g\n", best / ((double)hours + before), rained, runoff, infiltrated, evaporated, overflow, stored() - start);
	return 0;
}
