import type { GaugeItem, Substrate } from "../../model/generated/types.ts";
import type { ReadingRow, ResolvedRow } from "../../model/resolve.ts";
import { liquid, reading, sand } from "../example-rows.ts";
import { isSandingOrBlade } from "../film-taken.ts";
import { common, rule, sheet } from "../rule.ts";

const metalGauge: GaugeItem = { id: "metal-gauge", name: "Metal gauge", reads: ["steel", "aluminium"], layer: "total" };
const soundGauge: GaugeItem = {
	id: "sound-gauge",
	name: "Ultrasonic gauge",
	reads: ["steel", "aluminium", "plastic", "composite"],
	layer: "clear",
};

/** Substrates on which the usual gauges, which work by magnet or eddy current, read nothing. */
const unreadable: readonly Substrate[] = ["plastic", "composite"];

export default rule({
	id: "gauge-unsuited",
	group: "film budget",
	level: "caution",
	source: common,
	why: {
		en: "The usual gauges need metal under the paint. On plastic or composite they show nothing, or a figure that means nothing.",
		es: "Los medidores usuales necesitan metal bajo la pintura. Sobre plástico o composite no marcan nada, o una cifra que no significa nada.",
	},
	axes: ["substrate"],
	*check({ procedure, rows, situation: { substrate }, shop }) {
		if (substrate === undefined) return;
		const readings = rows.filter((row): row is ReadingRow => row.kind === "reading");
		const seen = new Set<string>();
		for (const row of readings) {
			const { gauge } = row;
			if (gauge === null || gauge.reads.includes(substrate) || seen.has(gauge.id)) continue;
			if (isReadBeside(row, rows, substrate)) continue;
			seen.add(gauge.id);
			yield {
				row,
				field: "tool" as const,
				basis: sheet(gauge.sheet?.title ?? gauge.name, gauge.reads.join(", "), null),
				data: { gauge: gauge.name as string | null, substrate, reads: [...gauge.reads] as string[] },
			};
		}
		const { known } = procedure.film ?? {};
		if (known === undefined || known === "none" || readings.some(({ gauge }) => gauge !== null)) return;
		if (readings.length === 0 && !rows.some(isSandingOrBlade)) return;
		const stocked = (shop.stock.gauges ?? []).filter(({ withdrawn }) => !withdrawn);
		if (stocked.some(({ reads }) => reads.includes(substrate))) return;
		if (stocked.length === 0 && (known !== "total-reading" || !unreadable.includes(substrate))) return;
		yield {
			field: "film" as const,
			data: { gauge: null, substrate, reads: [...new Set(stocked.flatMap(({ reads }) => reads))] },
		};
	},
	say: {
		en: ({ gauge, substrate, reads }, say) => ({
			found:
				gauge === null
					? `The film is to be read, and no gauge in stock reads it on ${say.label("substrate", substrate)}`
					: `${gauge} does not read on ${say.label("substrate", substrate)}`,
			expected:
				reads.length === 0
					? "The usual gauges read on metal only (common practice)"
					: `${gauge === null ? "Those in stock read" : "It reads"} on ${say.list(reads.map((one) => say.label("substrate", one)))} (stock)`,
			then: "How much clear is left stays unknown there; use a gauge that reads it, or say that the film is not known",
		}),
		es: ({ gauge, substrate, reads }, say) => ({
			found:
				gauge === null
					? `Hay que medir la película, y ningún medidor de las existencias la lee sobre ${say.label("substrate", substrate)}`
					: `${gauge} no lee sobre ${say.label("substrate", substrate)}`,
			expected:
				reads.length === 0
					? "Los medidores usuales solo leen sobre metal (práctica común)"
					: `${gauge === null ? "Los que hay leen" : "Lee"} sobre ${say.list(reads.map((one) => say.label("substrate", one)))} (existencias)`,
			then: "Ahí no se sabe cuánto barniz queda; use un medidor que lo lea, o diga que la película no se conoce",
		}),
	},
	examples: {
		good: [
			{
				title: "A metal gauge on steel",
				steps: [{ stage: "measure", tool: "metal-gauge" }, sand("P2000")],
				stock: { gauges: [metalGauge] },
			},
			{
				title: "Each substrate its own gauge",
				steps: [
					{ stage: "measure", tool: "metal-gauge", when: [{ substrate: ["steel"] }] },
					{ stage: "measure", tool: "sound-gauge", when: [{ substrate: ["plastic"] }] },
					sand("P2000"),
				],
				procedure: { scope: { substrates: ["steel", "plastic"] } },
				stock: { gauges: [metalGauge, soundGauge] },
			},
			{
				title: "Both gauges one after the other",
				steps: [{ stage: "measure", tool: "metal-gauge" }, { stage: "measure", tool: "sound-gauge" }, sand("P2000")],
				procedure: { scope: { substrates: ["steel", "plastic"] } },
				stock: { gauges: [metalGauge, soundGauge] },
			},
			{
				title: "Clear read on plastic, gauge not named",
				steps: [reading, sand("P2000")],
				procedure: { scope: { substrates: ["plastic"] } },
			},
			{
				title: "Polishing alone on plastic",
				steps: [liquid("fine", "foam-soft")],
				procedure: { scope: { substrates: ["plastic"] }, film: { known: "total-reading" } },
			},
		],
		bad: [
			{
				title: "A metal gauge on plastic, before and after",
				steps: [{ stage: "measure", tool: "metal-gauge" }, sand("P2000"), { stage: "measure", tool: "metal-gauge" }],
				procedure: { scope: { substrates: ["steel", "plastic"] } },
				stock: { gauges: [metalGauge] },
				at: { row: 1, field: "tool" },
			},
			{
				title: "The total read on composite, with the usual gauge",
				steps: [reading, sand("P2000")],
				procedure: { scope: { substrates: ["composite"] }, film: { known: "total-reading" } },
				at: { row: null, field: "film" },
			},
			{
				title: "The clear read on plastic, and only a metal gauge in stock",
				steps: [reading, sand("P2000")],
				procedure: { scope: { substrates: ["plastic"] } },
				stock: { gauges: [metalGauge] },
				at: { row: null, field: "film" },
			},
		],
	},
});

/** Whether another reading in the same run of readings is done with a gauge that reads the substrate. */
function isReadBeside(row: ReadingRow, rows: readonly ResolvedRow[], substrate: Substrate): boolean {
	const at = rows.indexOf(row);
	for (const step of [-1, 1])
		for (let next = rows[at + step], n = at + step; next?.kind === "reading"; n += step, next = rows[n])
			if (next.gauge?.reads.includes(substrate)) return true;
	return false;
}
