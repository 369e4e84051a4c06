/* Yardstick for speed only: an hourly balance of one store without bands, in
 * explicit steps. It reads "rain et0" lines (mm in the hour) from standard
 * input and prints nanoseconds per hour and the volumes, m3.
 * Built and run by BenchmarkYardstickC:  cc -O2 -o balance balance.c -lm  */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

int main(void)
{
	size_t n = 0, room = 1 << 16;
	double *rain = malloc(room * sizeof *rain), *et0 = malloc(room * sizeof *et0);
	while (rain && et0 && scanf("%lf %lf", &rain[n], &et0[n]) == 2)
		if (++n == room) {
			room *= 2;
			rain = realloc(rain, room * sizeof *rain);
			et0 = realloc(et0, room * sizeof *et0);
		}
	if (!rain || !et0 || n == 0)
		return 1;
	const double fc = 81, sat = 202, taw = 44, k = 6, mix = 50, power = 12.4, area = 12, roof = 100, most = 150, p = 0.5;
	const int rounds = 200;
	double seeped = 0, used = 0, spilled = 0;
	struct timespec a, b;
	clock_gettime(CLOCK_MONOTONIC, &a);
	for (int r = 0; r < rounds; r++) {
		double held = fc, pond = 0, loss = 1;
		for (size_t h = 0; h < n; h++) {
			double wet = fmin(loss, rain[h]);
			pond += rain[h] + (rain[h] - wet) * 0.95 * roof / area;
			loss = fmin(1, loss - wet + et0[h]);
			double in = fmin(fmin(pond, mix), sat - held + k);
			double out = held > fc ? fmin(k, mix * pow(held / sat, power)) : 0;
			pond -= in;
			held = fmin(held + in - out, sat);
			double gone = fc - held, ks = gone <= p * taw ? 1 : fmax(0, (taw - gone) / ((1 - p) * taw));
			held -= et0[h] * ks;
			if (pond > most) {
				spilled += pond - most;
				pond = most;
			}
			seeped += out;
			used += et0[h] * ks;
		}
	}
	clock_gettime(CLOCK_MONOTONIC, &b);
	double ns = (b.tv_sec - a.tv_sec) * 1e9 + (b.tv_nsec - a.tv_nsec);
	printf("%.3f %.1f %.1f %.1f\n", ns / ((double)n * rounds), seeped / rounds * area / 1000, used / rounds * area / 1000, spilled / rounds * area / 1000);
	return 0;
}
