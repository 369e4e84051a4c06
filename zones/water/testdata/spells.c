/* The record, and the spells of a run: spells.go in C, part of model.c. */

struct spell { int from, hours, growing; double deepest; int gap; };
struct year { struct spell wet, wetGrowing, wetWorst, dry; int wetHours, dryDays, airPoor; double deepest; };
static int years, toDay[YEARS];
static double *rain, *et0;
static char *missing, *broken;

static struct year exposure[MOST][YEARS];
static struct spell wetRun[MOST], dryRun[MOST];
static int airRun[MOST];
static double levelRun[LEVELS], above[LEVELS][YEARS], *offered[MOST], excess[MOST];
static int now, gapBefore, wetNow;

static double processor(void)
{
	struct rusage u;
	getrusage(RUSAGE_SELF, &u);
	return (u.ru_utime.tv_sec + u.ru_stime.tv_sec) * 1e9 + (u.ru_utime.tv_usec + u.ru_stime.tv_usec) * 1e3;
}

static int readRecord(void)
{
	for (int y = 0; y < years; y++)
		if (scanf("%d", &toDay[y]) != 1)
			return 0;
	day = malloc(days * sizeof *day);
	rain = malloc(24 * days * sizeof *rain);
	et0 = malloc(24 * days * sizeof *et0);
	missing = malloc(24 * days);
	broken = malloc(24 * days);
	for (int d = 0; d < days; d++) {
		if (!day || !rain || !et0 || !missing || !broken || scanf("%lf %lf %d %d", &day[d].et0, &day[d].p, &day[d].growing, &day[d].gap) != 4)
			return 0;
		for (int h = 24 * d; h < 24 * d + 24; h++)
			if (scanf("%lf %lf %hhd %hhd", &rain[h], &et0[h], &missing[h], &broken[h]) != 4)
				return 0;
		day[d].rainless = 1;
		for (int h = 24 * d; h < 24 * d + 24; h++)
			day[d].rainless = day[d].rainless && rain[h] == 0;
		day[d].lost = memchr(missing + 24 * d, 1, 24) != NULL;
	}
	return 1;
}

static void clearSpells(void)
{
	memset(exposure, 0, sizeof exposure);
	memset(wetRun, 0, sizeof wetRun);
	memset(dryRun, 0, sizeof dryRun);
	memset(airRun, 0, sizeof airRun);
	memset(levelRun, 0, sizeof levelRun);
	memset(above, 0, sizeof above);
	memset(excess, 0, sizeof excess);
	for (int b = 0; b < n; b++) {
		free(offered[b]);
		offered[b] = calloc(days, sizeof(double));
	}
	now = wetNow = 0;
	gapBefore = 1;
}

static int lost(int hour) { return hour >= 24 * days || missing[hour]; }

static int lostDay(int d) { return d < 0 || d >= days || day[d].lost; }

static double equivalent(const struct spell *s) { return s->growing + DORMANT * (s->hours - s->growing); }

static void keep(const struct spell *s, struct spell *longest, struct spell *growing)
{
	if (s->hours > longest->hours)
		*longest = *s;
	if (s->growing > growing->growing || (s->growing > 0 && s->from == growing->from))
		*growing = *s;
}

static void keepWet(int b)
{
	const struct spell *run = &wetRun[b];
	struct year *y = &exposure[b][now];
	if (run->hours == 0 || run->from + run->hours <= (now > 0 ? 24 * toDay[now - 1] : 0))
		return;
	keep(run, &y->wet, &y->wetGrowing);
	if (equivalent(run) > equivalent(&y->wetWorst))
		y->wetWorst = *run;
}

static void keepAllWet(void)
{
	for (int b = 0; b < n; b++)
		keepWet(b);
}

static void wetHour(int hour, int growing)
{
	int gap = lost(hour) || lost(hour + 1), ponds = pond > film;
	wetNow = 1;
	for (int b = 0; b < n; b++) {
		const struct place *p = &place[b];
		struct spell *run = &wetRun[b];
		int wet = p->held >= WET * sat || (level > p->foot && level >= (p->foot + p->top) / 2 && ponds);
		struct year *y = &exposure[b][now];
		airRun[b] = wet || p->held > airPoor ? airRun[b] + 1 : 0;
		y->airPoor = airRun[b] > y->airPoor ? airRun[b] : y->airPoor;
		if (!wet) {
			keepWet(b);
			run->hours = 0;
			continue;
		}
		if (run->hours == 0)
			*run = (struct spell){hour, 0, 0, 0, gapBefore};
		run->hours++;
		run->growing += growing;
		run->gap = run->gap || gap;
		double depth = ponds ? most(0, level - p->foot) : 0;
		run->deepest = most(run->deepest, depth);
		y->wetHours++;
		y->deepest = most(y->deepest, depth);
	}
	for (int k = 0; k < LEVELS; k++) {
		if (!ponds || level <= place[0].foot * (1 - (double)k / LEVELS)) {
			if (levelRun[k] == 0)
				break;
			levelRun[k] = 0;
			continue;
		}
		levelRun[k] += growing ? 1 : DORMANT;
		above[k][now] = most(above[k][now], levelRun[k]);
	}
}

static void endDay(int d)
{
	int before = lostDay(d - 1), after = lostDay(d) || lostDay(d + 1);
	for (int b = 0; b < n; b++) {
		double held = place[b].held;
		struct spell *run = &dryRun[b];
		offered[b][d] += excess[b];
		excess[b] = most(0, held - field);
		if (day[d].gap || !day[d].growing || field - held <= day[d].p * taw) {
			run->hours = 0;
			continue;
		}
		if (run->hours == 0)
			*run = (struct spell){24 * d, 0, 0, 0, before};
		run->hours += 24;
		run->gap = run->gap || after;
		struct year *y = &exposure[b][now];
		y->dryDays++;
		if (run->hours > y->dry.hours)
			y->dry = *run;
	}
}

static void follow(int from, int to)
{
	int d = from / 24;
	if (to > from + 1 || broken[from]) {
		if (wetNow) {
			keepAllWet();
			memset(wetRun, 0, n * sizeof *wetRun);
			memset(airRun, 0, n * sizeof *airRun);
			memset(levelRun, 0, sizeof levelRun);
		}
		wetNow = 0;
	} else {
		wetHour(from, day[d].growing);
	}
	gapBefore = lost(to - 1);
	if (moved)
		for (int b = 0; b < n; b++)
			offered[b][d] += place[b].intake;
	if (to % 24 == 0) {
		endDay(d);
		if (d + 1 == toDay[now]) {
			keepAllWet();
			now += now + 1 < years;
		}
	}
}

static void printSpells(void)
{
	double wet = 0, wetAll = 0, dry = 0, dryDays = 0, mm = 0, hours = 0, air = 0;
	for (int b = 0; b < n; b++) {
		for (int y = 0; y < years; y++) {
			wet += exposure[b][y].wet.hours;
			wetAll += exposure[b][y].wetHours;
			dry += exposure[b][y].dry.hours;
			dryDays += exposure[b][y].dryDays;
			air += exposure[b][y].airPoor;
		}
		for (int d = 0; d < days; d++)
			mm += offered[b][d];
	}
	for (int k = 0; k < LEVELS; k++)
		for (int y = 0; y < years; y++)
			hours += above[k][y];
	printf("%.12g %.12g %.12g %.12g %.12g %.12g %.12g\n", wet, wetAll, dry, dryDays, mm, hours, air);
}
