package server

import (
	"saltlock/server/contract"
	"saltlock/server/site"
)

// problemPages explain the types of problem under /problems.
var problemPages = []site.Problem{
	{Kind: contract.InvalidRequest, Meaning: "Something in the request is missing, given twice, unknown, of another type, or a quantity whose number or unit cannot be read.",
		Do: "Each entry of errors names the place, what was given and what is allowed. Mend them all at once; the documentation lists every parameter."},
	{Kind: contract.OutOfRange, Meaning: "A value is well formed, but a formula needed for the answer does not hold there. Saltlock does not answer outside the range of its sources.",
		Do: "Check for a slip (a Fahrenheit temperature given as Celsius, grams for kilograms). The entry gives the range that holds; /v1/methods tells where it comes from."},
	{Kind: unreachable, Meaning: "No share of the waters given makes the target: it is fresher than the freshest of them, or saltier than the saltiest.",
		Do: "The entry says what can be reached. Bring in a fresher or saltier water, or change the target."},
	{Kind: noPlan, Meaning: "With these waters, this container and this line no plan keeps the animals within their limits. Welfare outranks convenience, so there is no plan rather than a harmful one.",
		Do: "Each entry names the field that stands in the way and the smallest change that would free it."},
	{Kind: keyMissing, Meaning: "Who knows the id of a saved transfer may read it; changing it, logging readings and deleting it take the key that was told when it was saved.",
		Do: "Send the key as Authorization: Bearer KEY."},
	{Kind: keyWrong, Meaning: "The key that was sent is not that of this saved transfer.", Do: "Look for the answer that the transfer was saved with. The service keeps only a hash and cannot tell the key; without it, save the transfer anew."},
	{Kind: conflict, Meaning: "As the saved transfer stands, that cannot be done: a start that readings count from is not moved, an ended transfer takes no readings, a log is kept in order.",
		Do: "Read the transfer; the entry says what stands in the way."},
	{Kind: changedSince, Meaning: "The request names a state of the saved transfer, by If-Match, that is no longer the latest.", Do: "Read the transfer again, decide anew, and send the new ETag."},
	{Kind: retryReused, Meaning: "An Idempotency-Key makes a repeated request harmless. This one came before with another body, so it is no repetition.", Do: "Take a new random key for each new request."},
	{Kind: storageFull, Meaning: "The disk of the service, or the size that its operator allows the database, is full. What was saved before is safe and can be read; plans and conversions are answered as before.",
		Do: "Try again after the time in Retry-After. The operator makes room on the disk; /readyz says when that was enough."},
	{Kind: storageBusy, Meaning: "Another process has held the database for longer than an answer may wait, or more is saved at once than it can take.", Do: "Try again after the time in Retry-After, with the same Idempotency-Key."},
	{Kind: storageBroken, Meaning: "The file of the database cannot be read or written: it is read-only, damaged, or its disk has failed.", Do: "The operator looks at the log, the file and its disk, and puts back a copy if need be."},
	{Kind: tooMany, Meaning: "Plans and writes are counted for each client, so that one cannot take the service from the others. The RateLimit fields of every such answer say how many are left.",
		Do: "Wait as long as Retry-After says. Keep answers to GET for as long as they allow. Many readings are converted by one POST to /v1/conversions, which is not counted."},
	{Kind: crowded, Meaning: "Plans, pictures, tables and what is saved are let in a few at a time, with a short queue, so that whoever asks something small is answered at once. The queue was full, or the wait too long.",
		Do: "Try again after the time in Retry-After. Ask in one batch what you ask in many requests."},
	{Kind: outOfTime, Meaning: "The plan was not found in the two seconds of computing that one request gets. It was broken off rather than answered by a worse one.",
		Do: "Try again after the time in Retry-After, since a busy machine computes slower. If it happens again, ask with fewer valve settings, without visits, or by a fixed route."},
	{Kind: damaged, Meaning: "What is stored of this one transfer cannot be read as what it was stored as. All others can.", Do: "Plan the move anew from where the animals are now. The operator finds the cause in the log."},
	{Kind: notFound, Meaning: "There is no such species, saved transfer or page. A saved transfer is deleted 30 days after its end.", Do: "The entry gives the nearest names; /v1/species?q= finds by any name."},
	{Kind: whichSpecies, Meaning: "The name is one that several species are called by, or near the spelling of one that is in the table. Nothing is guessed.",
		Do: "Each entry lists the species that it may mean as candidates. Ask again by the id of yours."},
	{Kind: notAcceptable, Meaning: "The Accept header names no format that this operation answers in.", Do: "Ask for JSON, CSV or plain text, or leave the header out."},
}
