import fc from "fast-check";
import { expect, it } from "vitest";
import { newRowId } from "../../src/model/ids.ts";

it("makes ten letters from any source of random numbers, and uses all of it", () => {
	fc.assert(
		fc.property(
			fc.array(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), { minLength: 10, maxLength: 10 }),
			(numbers) => {
				let at = 0;
				expect(newRowId(() => numbers[at++] as number)).toMatch(/^[a-z]{10}$/);
				expect(at).toBe(10);
			},
		),
		{ seed: 51 },
	);
	const ends = [0, 0.999999, 0.5];
	let at = 0;
	expect(newRowId(() => ends[at++ % 3] as number)).toBe("aznaznazna");
});
