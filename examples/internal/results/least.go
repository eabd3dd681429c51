package results

// LeastSwings is how many swings of a day it takes to show that something changed:
// from so many values on package swing tells a golfer's scatter.
const LeastSwings = 4
