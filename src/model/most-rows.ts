/** Most rows of a procedure, as in its schema. */
export const mostRows = 500;
