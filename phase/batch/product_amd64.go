//go:build !purego

package batch

// product is what the vector kernel multiplies by: each coefficient stands in all
// four lanes of a vector.
type product struct {
	matrix [36][4]float64
	empty  [6][4]float64
}

// vectorized does what six does for as many samples as it can, and returns how
// many that are.
func vectorized(dst []float64, stride int, m *[36]float64, empty *[6]float64, channels [][]float64, from, to int) int {
	rounds := (to - from) / 4
	if rounds == 0 {
		return 0
	}
	var p product
	for i, v := range m {
		p.matrix[i] = [4]float64{v, v, v, v}
	}
	for i, v := range empty {
		p.empty[i] = [4]float64{v, v, v, v}
	}
	_ = dst[(4*rounds-1)*stride+5]
	var at [6]*float64
	for j := range at {
		at[j] = &channels[j][from:to][0]
	}
	fours(&dst[0], 8*stride, rounds, &at, &p)
	return 4 * rounds
}

// The vector kernel, in product_amd64.s: the wrenches of four samples in each
// round. stride is in bytes; dst has to reach to the end of the last wrench.
//
//go:noescape
func fours(dst *float64, stride, rounds int, channels *[6]*float64, p *product)

// cpuid1 returns what the processor says about leaf 1, in register ECX.
func cpuid1() (ecx uint32)

// xgetbv0 returns which registers the operating system keeps for a thread.
func xgetbv0() (eax uint32)

// haveVectors reports whether the processor has AVX and the operating system
// keeps its registers (Intel 64 and IA-32 Architectures Software Developer's
// Manual, vol. 1, section 14.3). AVX is all that the kernel uses. It is slow to
// ask under a hypervisor: a chain does so once.
func haveVectors() bool {
	const osxsave, avx = 1 << 27, 1 << 28
	const xmm, ymm = 1 << 1, 1 << 2
	c := cpuid1()
	return c&osxsave != 0 && c&avx != 0 && xgetbv0()&(xmm|ymm) == xmm|ymm
}
