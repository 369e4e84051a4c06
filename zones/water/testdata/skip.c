/* Hours that go by at once: stretch.go in C, part of model.c. */

struct stretch {
	const double *rain, *demand;
	int hours, rainless;
	double p, rainMM, demandMM, wettest, low, high;
	int faded;
	double kept, came;
};

/* What a stretch does in a piece of the law. */
static struct passage { long number; double decay, left, lowest, highest; } passage[PIECES + 2];
static long number;

static void forget(void)
{
	if (moved)
		for (int i = 0; i < n; i++)
			place[i].intake = place[i].seeped = place[i].used = 0;
	moved = 0;
}

static int dryDay(const struct day *d)
{
	if (draining || pond > film)
		return 0;
	forget();
	wetting = least(loss, wetting + d->et0);
	double last = NAN, used = 0, usedM3 = 0;
	for (int i = 0; i < n; i++) {
		if (place[i].held != last) {
			last = place[i].held;
			used = use(last, kc * d->et0, d->p);
		}
		place[i].held -= used;
		usedM3 += used * place[i].m3;
	}
	lose(0, usedM3);
	return 1;
}

static int untilWet(int hours, const double *rain, double *rainMM)
{
	double fullest = 0, room;
	int h = 0;
	for (int i = 0; i < n; i++)
		fullest = most(fullest, place[i].held);
	room = watch - fullest;
	for (*rainMM = 0; h < hours && *rainMM + rain[h] < room && rain[h] <= mix; h++)
		*rainMM += rain[h];
	return h;
}

static void calmHour(struct total *t, double offered, double demand, double p)
{
	for (int k = 0; k < calm.steps; k++) {
		double used;
		struct change c = advance(t->c.after, offered, demand * calm.hours, p, &calm, &used);
		t->c.after = c.after;
		t->c.in += c.in;
		t->c.seeped += c.seeped;
		t->used += used;
	}
}

static int bottom(int hours, const double *rain, const double *inflow, const double *demand, double p, struct total *t)
{
	*t = (struct total){{place[0].held, 0, 0}, 0};
	for (int h = 0; h < hours; h++) {
		double offered = rain[h] + inflow[h] / place[0].m3;
		if (offered > mix || offered > sat - t->c.after)
			return h;
		struct total next = *t;
		calmHour(&next, offered, demand[h], p);
		if (next.c.after >= watch)
			return h;
		*t = next;
	}
	return hours;
}

static struct stretch stretchOf(int hours, const double *rain, const double *demand, double p)
{
	struct stretch t = {.rain = rain, .demand = demand, .hours = hours, .p = p};
	double ahead = 0;
	number++;
	for (int h = 0; h < hours; h++) {
		double net = rain[h] - demand[h];
		t.high = most(t.high, ahead + rain[h]);
		ahead += net;
		t.rainMM += rain[h];
		if (rain[h] > 0)
			t.rainless = h + 1;
		t.demandMM += demand[h];
		t.wettest = most(t.wettest, rain[h]);
		t.low = least(t.low, ahead);
	}
	return t;
}

static int steady(double held, const struct stretch *t, struct total *out)
{
	double over = held - field;
	if (over <= 0 && t->rainMM == 0) {
		double used = use(held, t->demandMM, t->p);
		*out = (struct total){{held - used, 0, 0}, used};
	} else if (over + t->high <= 0 && over + t->p * taw + t->low >= t->wettest / 2) {
		*out = (struct total){{held + t->rainMM - t->demandMM, t->rainMM, 0}, t->demandMM};
	} else {
		return 0;
	}
	return 1;
}

static int onePiece(double held, const struct stretch *t, struct total *out)
{
	int i = pieceAt(held);
	const struct piece *q = &piece[i];
	struct passage *r = &passage[i];
	if (r->number != number) {
		*r = (struct passage){number, 1, 0, 0, 0};
		struct step s = whole.step[i];
		for (int h = 0; h < t->hours; h++) {
			r->decay *= s.decay;
			r->left = r->left * s.decay + (t->rain[h] - t->demand[h] - q->fromH) * s.gain;
			r->lowest = least(r->lowest, r->left);
			r->highest = most(r->highest, r->left);
		}
	}
	double into = held - q->from;
	if (into * r->decay + r->lowest < 0 || into + r->highest > q->to - q->from)
		return 0;
	double after = q->from + into * r->decay + r->left;
	*out = (struct total){{after, t->rainMM, most(held - after + t->rainMM - t->demandMM, 0)}, t->demandMM};
	return 1;
}

static inline void drained(struct total *t, double after, double in, double used)
{
	t->c.seeped += most(t->c.after - after + in - used, 0);
	t->c.after = after;
	t->c.in += in;
	t->used += used;
}

static int drain(struct total *out, const struct stretch *t, int h)
{
	int i = pieceAt(out->c.after);
	const struct piece *q = &piece[i];
	struct step s = whole.step[i];
	double into = out->c.after - q->from, wide = q->to - q->from, in = 0, used = 0, left;
	for (; h < t->hours; h++) {
		double next = into * s.decay + (t->rain[h] - t->demand[h] - q->fromH) * s.gain;
		if (next < 0 || next > wide)
			break;
		into = next;
		in += t->rain[h];
		used += t->demand[h];
	}
	double held = q->from + into;
	if (h < t->hours) {
		double after = cross(held, t->rain[h] - t->demand[h], 1, i, &left);
		if (left > 0) {
			drained(out, held, in, used);
			calmHour(out, t->rain[h], t->demand[h], t->p);
			return h + 1;
		}
		held = after;
		in += t->rain[h];
		used += t->demand[h];
		h++;
	}
	drained(out, held, in, used);
	return h;
}

static struct total byHour(double held, const struct stretch *t)
{
	struct total out = {{held, 0, 0}, 0};
	for (int h = 0; h < t->hours;) {
		if (out.c.after > field) {
			h = drain(&out, t, h);
			continue;
		}
		if (h >= t->rainless) {
			double ahead = 0;
			for (; h < t->hours; h++)
				ahead += t->demand[h];
			double used = use(out.c.after, ahead, t->p);
			out.c.after -= used;
			out.used += used;
			return out;
		}
		calmHour(&out, t->rain[h], t->demand[h], t->p);
		h++;
	}
	return out;
}

static void fadeOver(struct stretch *t)
{
	t->faded = 1;
	t->kept = 1;
	for (int h = 0; h < t->hours; h++) {
		double mm = t->rain[h] * calm.hours, gone = 0, demand = t->demand[h] * calm.hours;
		if (demand > 0)
			gone = -expm1(-demand / ((1 - t->p) * taw));
		for (int k = 0; k < calm.steps; k++) {
			t->kept *= 1 - gone;
			t->came = t->came * (1 - gone) + mm - (mm / 2 - field + taw) * gone;
		}
	}
}

static struct total through(double held, struct stretch *t)
{
	struct total out = {{0, 0, 0}, 0};
	if (steady(held, t, &out) || (held > field && onePiece(held, t, &out)))
		return out;
	if (held - field + t->p * taw + t->rainMM > 0)
		return byHour(held, t);
	if (!t->faded)
		fadeOver(t);
	out.c.after = held * t->kept + t->came;
	out.c.in = t->rainMM;
	out.used = held - out.c.after + t->rainMM;
	return out;
}

static int skip(int hours, const double *rain, const double *inflow, const double *demand, double p)
{
	double rainMM, last = NAN, seepedM3 = 0, usedM3 = 0;
	struct total out = {{0, 0, 0}, 0};
	if (pond > film)
		return 0;
	hours = untilWet(hours, rain, &rainMM);
	if (rainMM > 0)
		hours = bottom(hours, rain, inflow, demand, p, &out);
	if (hours == 0)
		return 0;
	forget();
	moved = 1;
	draining = 0;
	struct stretch t = stretchOf(hours, rain, demand, p);
	rained += t.rainMM * bed;
	for (int i = 0; i < n; i++) {
		struct place *q = &place[i];
		if ((i > 0 || rainMM == 0) && q->held != last) {
			last = q->held;
			out = through(last, &t);
		}
		draining = draining || out.c.after > field;
		settle(q, out.c.after, out.c.in, out.c.seeped, out.used);
		seepedM3 += out.c.seeped * q->m3;
		usedM3 += out.used * q->m3;
	}
	lose(seepedM3, usedM3);
	return hours;
}
