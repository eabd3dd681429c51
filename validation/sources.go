package validation

// The published sources, each once. Cases add the place inside.
var (
	openStaxUniversity = Source{
		Authors: "Ling, Sanny, Moebs", Year: 2016, Title: "University Physics Volume 1", Edition: "OpenStax",
		Link: "https://openstax.org/books/university-physics-volume-1",
	}
	openStaxCollege = Source{
		Authors: "Urone, Hinrichs", Year: 2022, Title: "College Physics 2e", Edition: "OpenStax",
		Link: "https://openstax.org/books/college-physics-2e",
	}
	winter = Source{
		Authors: "D. A. Winter", Year: 2009, Title: "Biomechanics and Motor Control of Human Movement", Edition: "4th ed., Wiley",
		Via: "the excerpts at http://what-when-how.com/Tutorial/topic-476tt/",
	}
	sp811 = Source{
		Authors: "Thompson, Taylor", Year: 2008, Title: "Guide for the Use of the International System of Units", Edition: "NIST Special Publication 811",
		Link: "https://physics.nist.gov/Pubs/SP811/appenB8.html", Place: "appendix B.8",
		Via: "the R package NISTunits, file R/NISTfactors.R, which transcribes it",
	}
	cgpm1901 = Source{
		Authors: "CGPM", Year: 1901, Title: "Declaration on the unit of mass and on the definition of weight", Edition: "Comptes Rendus de la 3e CGPM, p. 70",
		Link: "https://www.bipm.org/en/CGPM/db/3/2/", Place: "980.665 cm/s², which defines the kilogram-force",
	}
	gnuUnits = Source{
		Title: "GNU Units", Edition: "version 2.22, output format %.15g", Link: "https://www.gnu.org/software/units/", Place: "units -t FROM TO, for what is given",
	}
	kineticsToolkit = Source{
		Authors: "Chénier", Year: 2021, Title: "Kinetics Toolkit", Edition: "tests/test_inversedynamics.py",
		Link: "https://github.com/kineticstoolkit/kineticstoolkit",
	}
	ezc3d = Source{
		Authors: "Michaud, Begon", Year: 2021, Title: "ezc3d", Edition: "commit c519e150, test/test_modules.cpp",
		Link: "https://github.com/pyomeca/ezc3d",
	}
	quijoux = Source{
		Authors: "Quijoux et al.", Year: 2021, Title: "Code of descriptors of postural control", Edition: "main.ipynb and test.csv",
		Link: "https://github.com/Jythen/code_descriptors_postural_control",
	}
	duarteNotes = Source{
		Authors: "Duarte, Watanabe", Year: 2021, Title: "Notes on Scientific Computing for Biomechanics and Motor Control",
		Link: "doi 10.5281/zenodo.4599319",
	}
	shroutFleiss = Source{
		Authors: "Shrout, Fleiss", Year: 1979, Title: "Intraclass correlations: uses in assessing rater reliability",
		Edition: "Psychological Bulletin 86(2):420–428", Link: "doi 10.1037/0033-2909.86.2.420",
		Via: "the documentation of the R package psych",
	}
	weir = Source{
		Authors: "Weir", Year: 2005, Title: "Quantifying test-retest reliability using the intraclass correlation coefficient and the SEM",
		Edition: "J. Strength Cond. Res. 19(1):231–240", Link: "doi 10.1519/15184.1",
		Via: "the test suite of the R package SimplyAgree",
	}
	blandAltman = Source{
		Authors: "Bland, Altman", Year: 1986, Title: "Statistical methods for assessing agreement between two methods of clinical measurement",
		Edition: "Lancet i:307–310", Link: "doi 10.1016/S0140-6736(86)90837-8",
	}
	rStats = Source{
		Authors: "R Core Team", Year: 2022, Title: "R", Edition: "4.2.2, package stats", Link: "https://www.r-project.org", Place: "testdata/gen/agreement.R",
	}
	psych = Source{
		Authors: "Revelle", Year: 2022, Title: "psych", Edition: "R package 2.2.9 under R 4.2.2, ICC(x, lmer = FALSE)",
		Link: "https://cran.r-project.org/package=psych", Place: "testdata/gen/agreement.R",
	}
	strd = Source{
		Authors: "NIST", Year: 1999, Title: "Statistical Reference Datasets, analysis of variance",
		Link: "https://www.itl.nist.gov/div898/strd/anova/anova.html",
		Via:  "the data files that SciPy 1.10.1 carries for its tests (scipy/stats/tests/data/nist_anova)",
	}
	gum = Source{
		Authors: "JCGM", Year: 2008, Title: "Evaluation of measurement data: Guide to the expression of uncertainty in measurement",
		Edition: "JCGM 100:2008", Link: "https://www.bipm.org/en/committees/jc/jcgm/publications",
		Via: "the documentation and examples of the GUM Tree Calculator (repository MSLNZ/GTC)",
	}
	bds = Source{
		Authors: "Santos, Duarte", Year: 2016, Title: "A public data set of human balance evaluations",
		Edition: "PeerJ 4:e2648", Link: "doi 10.7717/peerj.2648; data doi 10.6084/m9.figshare.3394432",
	}
	pds = Source{
		Authors: "dos Santos, Fukuchi, Fukuchi, Duarte", Year: 2017, Title: "A data set with kinematic and ground reaction forces of human balance",
		Edition: "PeerJ 5:e3626", Link: "doi 10.7717/peerj.3626; data doi 10.6084/m9.figshare.4525082",
	}
	c3dSamples = Source{
		Title: "C3D sample files", Edition: "Sample10, type 4 against type 2, the spreadsheet that comes with it",
		Link: "https://www.c3d.org/sampledata.html",
	}
	walkData = Source{
		Authors: "Le Mouel", Year: 2024, Title: "center_of_mass", Edition: "commit be3a7131, examples/example_data.mat",
		Link: "https://github.com/charlotte-lemouel/center_of_mass",
	}
	c3dFiles = Source{
		Title: "C3D sample files and the Biomechanical ToolKit's test data",
		Link:  "https://www.c3d.org/sampledata.html; https://github.com/Biomechanical-ToolKit/BTKData",
	}
	c3dGuide = Source{
		Authors: "Motion Lab Systems", Year: 2008, Title: "The C3D File Format User Guide", Link: "https://www.c3d.org/HTML/Documents/",
	}
	pyC3D = Source{
		Title: "py-c3d", Edition: "commit e291741 (on PyPI: c3d)", Link: "https://github.com/EmbodiedCognition/py-c3d",
	}
	sciPy = Source{
		Authors: "Virtanen et al.", Year: 2020, Title: "SciPy", Edition: "1.10.1 with NumPy 1.24.2", Link: "doi 10.1038/s41592-019-0686-2",
	}
	leMouel = Source{
		Authors: "Le Mouel", Year: 2025, Title: "Improved accuracy of the whole body Center of Mass position through Kalman filtering",
		Edition: "Peer Community Journal 5:e10", Link: "doi 10.24072/pcjournal.510",
	}
	deLeva = Source{
		Authors: "de Leva", Year: 1996, Title: "Adjustments to Zatsiorsky-Seluyanov's segment inertia parameters",
		Edition: "J. Biomech. 29(9):1223–1230", Link: "doi 10.1016/0021-9290(95)00178-6",
	}
	practice        = Source{Title: "common practice (no published source)"}
	firstPrinciples = Source{Title: "first principles", Place: "worked out beside the case"}
)

// Books give accelerations of gravity of their own.
const gBook = 9.80

// caseOf joins the parts of a case.
func caseOf(id, quantity, operation string, level Level, source Source, given string, in Values, wants ...Want) Case {
	return Case{ID: id, Quantity: quantity, Operation: operation, Level: level, Source: source, Given: given, Inputs: in, Wants: wants}
}

func (c Case) note(text string) Case {
	c.Note = text
	return c
}
