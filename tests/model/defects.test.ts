import { describe, expect, it } from "vitest";
import { defect, defectName, defects } from "../../src/model/defects.ts";
import { valuesOf } from "../../src/model/words.ts";
import reference from "../reference/terms.json" with { type: "json" };

describe("the table of defects", () => {
	it("names exactly the defects that have words, in one order", () => {
		expect(defects.map(({ id }) => id)).toEqual(valuesOf("defect"));
	});

	// "below" says that the cause lies under or beyond the clear; the surface above it may do anything.
	const reliefs: Record<string, string[]> = {
		proud: ["above"],
		texture: ["above", "both", "level"],
		recessed: ["below", "both"],
		optical: ["level", "below"],
	};

	it.each(reference.flatMap(({ defects: ids, relief, source }) => ids.map((id) => [id, relief, source] as const)))(
		"places %s where the published definition, relief %s, allows (%s)",
		(id, relief) => {
			const found = defect(id);
			if (!found) throw new Error(`no defect ${id}`);
			if (found.position === "below") expect(found.polishable).toBe(false);
			else expect(reliefs[found.position]).toContain(relief);
		},
	);

	it("lets polishing fix everything but what lies below or beyond the clear", () => {
		for (const one of defects) expect([one.id, one.polishable]).toEqual([one.id, one.position !== "below"]);
	});

	it.each([
		["dirt-nib", 20, 60, 34.641],
		["run", 50, 300, 122.474],
		["sand-scratch", 0.5, 3, 1.2247],
		["swirl", 0.05, 1, 0.2236],
	])("gives %s %d to %d µm with the geometric mean between", (id, low, high, mid) => {
		expect(defect(id)?.um).toEqual({ low, high, mid: expect.closeTo(mid, 3) });
	});

	it("says which defects are hard and which come back", () => {
		expect(defects.filter(({ hard }) => hard).map(({ id }) => id)).toEqual(["dirt-nib", "fibre"]);
		expect(defects.filter(({ returns }) => returns).map(({ id }) => id)).toEqual(["edge-mapping", "sink"]);
		expect(defects.filter(({ deposit }) => deposit).map(({ id }) => id)).toEqual([
			"dry-spray",
			"fallout",
			"water-spot",
		]);
	});
});

describe("a shop's own defect", () => {
	const book = {
		defects: [
			{
				id: "tar-spot",
				name: { es: "mancha de alquitrán" },
				position: "proud" as const,
				polishable: true,
				um: { mid: 5, low: 2, high: 9 },
			},
		],
	};

	it("is found beside the built-in ones and named in the language it has", () => {
		expect(defect("tar-spot", book)).toEqual({
			id: "tar-spot",
			position: "proud",
			hard: false,
			deposit: false,
			returns: false,
			polishable: true,
			um: { mid: 5, low: 2, high: 9 },
		});
		expect(defectName("tar-spot", "en", book)).toBe("mancha de alquitrán");
		expect(defectName("dirt-nib", "es", book)).toBe("mota");
	});

	it("is unknown without the book", () => {
		expect(defect("tar-spot")).toBeUndefined();
		expect(defectName("tar-spot", "en")).toBe("tar-spot");
	});

	it("cannot replace a built-in one", () => {
		expect(
			defect("run", { defects: [{ id: "run", name: {}, position: "optical", polishable: false }] })?.position,
		).toBe("proud");
	});
});
