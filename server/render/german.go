package render

// german translates the English catalogue, for readers who keep animals in German.
var german = join(germanAnswers, germanWater, germanTransfer, germanRamp, germanRefusals, germanRequests, germanCautions, germanCare, germanJellyfish, germanSpecies, germanSaved, germanPictures, germanPages)
