/* What seeps out of a place, and water that comes and goes above field capacity:
 * law.go and store of rootzone.go in C, part of model.c. */

static struct piece { double from, to, fromH, toH, per; } piece[PIECES + 2];
static int pieces;
static unsigned char byHeld[CELLSOFLAW + 1];
static double cellPer;

static void addPiece(double from, double to, double fromH, double toH)
{
	piece[pieces++] = (struct piece){from, to, fromH, toH, (toH - fromH) / (to - from)};
}

static void makeLaw(double mixMMH, double nativeMMH)
{
	double top = least(mixMMH, nativeMMH), power = 3 + 2 * log(1500.0 / 33) / log(field / (field - taw));
	double atField = least(mixMMH * pow(field / sat, power), top), first = least(2 * atField, sqrt(atField * top));
	double last = field, lastH = 0;
	pieces = 0;
	for (int k = 0; k < PIECES; k++) {
		double mmh = k == PIECES - 1 ? top : first * pow(top / first, (double)k / (PIECES - 1));
		double held = most(least(sat * pow(mmh / mixMMH, 1 / power), sat), field + (sat - field) / 1024);
		if (held > last) {
			addPiece(last, held, lastH, mmh);
			last = held;
			lastH = mmh;
		}
	}
	struct piece *q = &piece[pieces - 1];
	q->toH = top;
	q->per = (top - q->fromH) / (q->to - q->from);
	if (mixMMH > nativeMMH && last < sat)
		addPiece(last, sat, top, top);
	else
		q->to = sat;
	cellPer = CELLSOFLAW / (sat - field);
	for (int k = 0, i = 0; k <= CELLSOFLAW; k++) {
		while (i + 1 < pieces && piece[i].to <= field + k / cellPer)
			i++;
		byHeld[k] = i > 0 ? i - 1 : 0;
	}
}

static int pieceAt(double held)
{
	int k = (int)((held - field) * cellPer), i = byHeld[k < CELLSOFLAW ? k : CELLSOFLAW];
	while (i + 1 < pieces && piece[i].to <= held)
		i++;
	return i;
}

static struct step stepOf(const struct piece *q, double hours)
{
	double fall = q->per * hours;
	if (fall == 0)
		return (struct step){1, 1};
	double gone = -expm1(-fall);
	return (struct step){1 - gone, gone / fall};
}

static inline double afterIn(const struct piece *q, double held, double net, double hours, struct step s)
{
	return q->from + (held - q->from) * s.decay + (net - q->fromH) * hours * s.gain;
}

static inline double seeps(const struct piece *q, double held) { return q->fromH + (held - q->from) * q->per; }

static double until(const struct piece *q, double held, double goal, double net, double goalH, double hours)
{
	double gains = net - seeps(q, held), there = net - goalH;
	if (q->per == 0)
		return (goal - held) / gains;
	if (gains * there <= 0 || fabs(gains) * hours < fabs(goal - held))
		return INFINITY;
	return most(0, log1p(q->per * (goal - held) / there) / q->per);
}

static double cross(double held, double net, double hours, int i, double *left)
{
	int falls = net < seeps(&piece[i], held);
	if (falls && held <= piece[i].from)
		i--;
	while (i >= 0 && i < pieces) {
		const struct piece *q = &piece[i];
		double goal = falls ? q->from : q->to, takes = until(q, held, goal, net, falls ? q->fromH : q->toH, hours);
		if (!(takes < hours)) {
			*left = 0;
			return least(most(afterIn(q, held, net, hours, stepOf(q, hours)), q->from), q->to);
		}
		held = goal;
		hours -= takes;
		i += falls ? -1 : 1;
	}
	*left = hours;
	return held;
}

static double course(double held, double net, const struct pace *p, double *left)
{
	int i = pieceAt(held);
	if (p->known) {
		double after = afterIn(&piece[i], held, net, p->hours, p->step[i]);
		if (after >= piece[i].from && after <= piece[i].to) {
			*left = 0;
			return after;
		}
	}
	return cross(held, net, p->hours, i, left);
}

static struct change absorb(double held, double offered, double useH, const struct pace *p)
{
	double net = offered - useH, in = offered * p->hours, left = p->hours, after;
	if (held == sat && net >= seep) {
		after = sat; /* full all along */
	} else if (held < field) {
		double room = field - held;
		if (net * left <= room)
			return (struct change){held + net * left, in, 0};
		after = cross(field, net, left - room / net, 0, &left);
	} else {
		after = course(held, net, p, &left);
	}
	if (left == 0)
		return (struct change){after, in, most(held - after + net * p->hours, 0)};
	double steady = seep * left, out = most(held - after + net * (p->hours - left), 0);
	return (struct change){after, offered * (p->hours - left) + useH * left + steady, out + steady};
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

static struct change advance(double held, double offered, double demand, double depletion, const struct pace *p, double *used)
{
	double useH = demand / p->hours, over = held - field, in = offered * p->hours;
	if (offered == 0 && over <= 0) {
		*used = use(held, demand, depletion);
		return (struct change){held - *used, 0, 0};
	}
	*used = demand;
	if (offered >= useH && -over <= depletion * taw)
		return absorb(held, offered, useH, p);
	if (over <= least(demand - in, 0) && depletion * taw + over >= demand - in)
		return (struct change){held + in - demand, in, 0};
	if (over > 0) {
		double left, after = course(held, offered - useH, p, &left), first = p->hours - left, more;
		struct change c = {after, offered * first, most(held - after + (offered - useH) * first, 0)};
		if (left == 0)
			return c;
		struct pace rest = {.hours = left};
		struct change r = advance(field, offered, useH * left, depletion, &rest, &more);
		*used = more + useH * first;
		return (struct change){r.after, c.in + r.in, c.seeped + r.seeped};
	}
	struct change c = absorb(held, offered, 0, p);
	*used = use((held + c.after) / 2, demand, depletion);
	c.after -= *used;
	return c;
}
