/* A step with a pond: pond.go in C, part of model.c. */

static double meanShare(const struct place *p, double from, double to, double limit)
{
	double lo = least(from, to) - p->foot, hi = most(from, to) - p->foot, height = p->top - p->foot, kink = limit * height;
	if (hi <= 0)
		return 0;
	if (lo >= kink)
		return limit;
	if (hi - lo < 1e-6 * height)
		return most(lo, 0) * p->perMM;
	double covered = least(hi, kink), sum = covered * covered * (p->perMM / 2) + limit * (hi - covered);
	if (lo > 0)
		sum -= lo * lo * (p->perMM / 2);
	return sum / (hi - lo);
}

static inline double under(const struct place *p, double from, double to, double limit)
{
	if (from == to)
		return least((to - p->foot) * p->perMM, limit);
	return meanShare(p, from, to, limit);
}

struct need { double open, atHand, wanted; };

static void offer(int i)
{
	struct place *p = &place[i], *below = i > 0 ? p - 1 : p;
	p->taken = p->offered;
	p->solved = p->held + p->offered > sat;
	if (!p->solved)
		return;
	if (i > 0 && below->solved && below->held == p->held && below->offered == p->offered)
		p->taking = below->taking;
	else
		p->taking = absorb(p->held, p->offered * ponded->perH, 0, ponded);
	p->taken = p->taking.in;
}

static struct need weigh(double to, double atHand, double open)
{
	struct need need = {0, atHand, 0};
	double hours = ponded->hours, highest = most(level, to);
	int i;
	for (i = 0; i < reach; i++) {
		struct place *p = &place[i];
		double covered = 1, feed = mix;
		if (i > 0) {
			if (highest <= p->foot)
				break;
			if (level < p->top || to < p->top) {
				covered = under(p, level, to, 1);
				feed *= covered;
				double takes = seep + (sat - p->held) * ponded->perH;
				if (takes < mix)
					feed = mix * under(p, level, to, takes / mix);
			}
		}
		p->under = covered;
		p->rain = (1 - covered) * open;
		double offered = feed * hours + p->rain;
		if (i >= wetted || offered != p->offered) {
			p->offered = offered;
			offer(i);
		}
		need.open += covered * p->m3;
		need.atHand += (open - p->rain) * p->m3;
		need.wanted += most(p->taken - p->rain, 0) * p->m3;
	}
	wetted = i;
	return need;
}

static double soak(double atHand, double wanted)
{
	double share = wanted > atHand ? atHand / wanted : 1;
	for (int i = 0; i < wetted; i++) {
		struct place *p = &place[i];
		double offered = share < 1 ? p->rain + share * most(p->taken - p->rain, 0) : p->offered;
		if (share < 1 || !p->solved)
			p->taking = absorb(p->held, offered * ponded->perH, 0, ponded);
		atHand += (p->rain - p->taking.in) * p->m3;
	}
	return atHand;
}

static struct stretch steadyRain(double rain, double demand, double depletion)
{
	return (struct stretch){.p = depletion, .rainMM = rain, .demandMM = demand, .wettest = rain, .low = least(rain - demand, 0), .high = rain};
}

static void aboveWater(double rain, double inflow, double demand, double depletion)
{
	double highest = rain > 0 ? most(level, levelOf(pond + inflow + rain * bed)) : level;
	for (reach = 1; reach < n && place[reach].foot < highest; reach++)
		;
	struct stretch t = steadyRain(least(rain, mix), demand, depletion);
	double last = NAN, left = 0, seepedM3 = 0, usedM3 = 0;
	struct total out = {{0, 0, 0}, 0};
	for (int i = reach; i < n; i++) {
		struct place *p = &place[i];
		if (p->held != last) {
			last = p->held;
			if (!steady(last, &t, &out)) {
				out = (struct total){{last, 0, 0}, 0};
				calmHour(&out, t.rainMM, demand, depletion);
			}
		}
		settle(p, out.c.after, out.c.in, out.c.seeped, out.used);
		left += (t.rainMM - out.c.in) * p->m3;
		seepedM3 += out.c.seeped * p->m3;
		usedM3 += out.used * p->m3;
	}
	lose(seepedM3, usedM3);
	leftM3 = left * ponded->hours;
}

static struct stretch beside;

static void besideWater(double rain, double demand, double depletion)
{
	beside = steadyRain(least(rain, mix * ponded->hours), demand, depletion);
}

static double besidePond(void)
{
	const struct stretch *t = &beside;
	double last = NAN, left = 0, seepedM3 = 0, usedM3 = 0;
	struct total out = {{0, 0, 0}, 0};
	for (int i = wetted; i < reach; i++) {
		struct place *p = &place[i];
		if (p->held != last) {
			last = p->held;
			if (!steady(last, t, &out))
				out.c = advance(last, t->rainMM * ponded->perH, t->demandMM, t->p, ponded, &out.used);
		}
		settle(p, out.c.after, out.c.in, out.c.seeped, out.used);
		left += (t->rainMM - out.c.in) * p->m3;
		seepedM3 += out.c.seeped * p->m3;
		usedM3 += out.used * p->m3;
	}
	lose(seepedM3, usedM3);
	return left;
}

static double dryOut(double atHand, double demand, double open, double depletion)
{
	double share = demand * open > most(atHand, 0) ? most(atHand, 0) / (demand * open) : 1, seepedM3 = 0, usedM3 = 0;
	for (int i = 0; i < wetted; i++) {
		struct place *p = &place[i];
		double standing = share * p->under * demand, more = standing < demand ? use(p->taking.after, demand - standing, depletion) : 0;
		atHand -= standing * p->m3;
		settle(p, p->taking.after - more, p->taking.in + standing, p->taking.seeped, standing + more);
		seepedM3 += p->taking.seeped * p->m3;
		usedM3 += (standing + more) * p->m3;
	}
	lose(seepedM3, usedM3);
	return atHand;
}

static void pondStep(double rain, double inflow, double demand, double depletion)
{
	double open = beside.rainMM, atHand = pond + inflow + (rain - open) * bed;
	wetted = 0;
	struct need need = weigh(level, atHand, open);
	need = weigh(levelOf(need.atHand - need.wanted - demand * need.open), atHand, open);
	atHand = soak(need.atHand, need.wanted);
	atHand += besidePond() + leftM3;
	atHand = dryOut(atHand, demand, need.open, depletion);
	pond = most(atHand, 0);
	if (pond > spill) {
		overflow += pond - spill;
		pond = spill;
	}
	level = levelOf(pond);
}
