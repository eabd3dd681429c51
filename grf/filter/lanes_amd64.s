//go:build !purego

#include "go_asm.h"
#include "textflag.h"

// The vector kernel: one section, or two that follow one another, over twelve
// channels or over two vectors of four that may share some. It is Section.next
// in kernel.go, four channels to a register, with the same products and sums in
// the same order and without fused multiply-add, so that it gives the same
// digits.
//
// The sums that the sections remember stay in registers from the first sample to
// the last: for twelve channels and two sections in twelve of the sixteen. The
// coefficients come from memory with the multiplications.
//
// Before a function returns it clears the upper halves of the vector registers
// (VZEROUPPER). Without that the SSE code that the Go compiler makes would be
// slowed down from there on, on many processors to less than half its speed.

// SECTION puts four channels of a sample through a section whose coefficients
// begin at C(BX): from register X to register Y, which is not X; T and V are
// work space. S1 and S2 are what is remembered.
//
//	t = b0·x
//	y = t + s1
//	s1 = b1·x + s2 − a1·y
//	s2 = t − a2·y
#define SECTION(C, X, Y, T, V, S1, S2) \
	VMULPD (C+0)(BX), X, T;   \
	VADDPD S1, T, Y;          \
	VMULPD (C+32)(BX), X, S1; \
	VADDPD S2, S1, S1;        \
	VMULPD (C+64)(BX), Y, V;  \
	VSUBPD V, S1, S1;         \
	VMULPD (C+96)(BX), Y, V;  \
	VSUBPD V, T, S2

// ONE and TWO put four channels of a sample at x through one section or two,
// and write the result to y.
#define ONE(x, y, S1, S2) \
	VMOVUPD x, Y12;                              \
	SECTION(0, Y12, Y13, Y14, Y15, S1, S2)       \
	VMOVUPD Y13, y

#define TWO(x, y, S1, S2, R1, R2) \
	VMOVUPD x, Y12;                              \
	SECTION(0, Y12, Y13, Y14, Y15, S1, S2);      \
	SECTION(128, Y13, Y12, Y14, Y15, R1, R2);    \
	VMOVUPD Y12, y

#define ARGUMENTS \
	MOVQ dst+0(FP), DI;      \
	MOVQ src+8(FP), SI;      \
	MOVQ step+16(FP), DX;    \
	MOVQ samples+24(FP), CX; \
	MOVQ coefs+32(FP), BX;   \
	MOVQ memory+40(FP), R8;  \
	MOVQ next+48(FP), R9;    \
	LEAQ (R8)(R9*1), R9

// func lanes12(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next int)
TEXT ·lanes12(SB), NOSPLIT, $0-56
	ARGUMENTS
	VMOVUPD 0(R8), Y0
	VMOVUPD 32(R8), Y1
	VMOVUPD 64(R8), Y2
	VMOVUPD 0(R9), Y3
	VMOVUPD 32(R9), Y4
	VMOVUPD 64(R9), Y5

round12:
	ONE(0(SI), 0(DI), Y0, Y3)
	ONE(32(SI), 32(DI), Y1, Y4)
	ONE(64(SI), 64(DI), Y2, Y5)
	ADDQ DX, SI
	ADDQ DX, DI
	DECQ CX
	JNE round12

	VMOVUPD Y0, 0(R8)
	VMOVUPD Y1, 32(R8)
	VMOVUPD Y2, 64(R8)
	VMOVUPD Y3, 0(R9)
	VMOVUPD Y4, 32(R9)
	VMOVUPD Y5, 64(R9)
	VZEROUPPER
	RET

// func lanes12x2(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next int)
TEXT ·lanes12x2(SB), NOSPLIT, $0-56
	ARGUMENTS
	MOVQ next+48(FP), R11
	LEAQ (R9)(R11*1), R10
	ADDQ R10, R11
	VMOVUPD 0(R8), Y0
	VMOVUPD 32(R8), Y1
	VMOVUPD 64(R8), Y2
	VMOVUPD 0(R9), Y3
	VMOVUPD 32(R9), Y4
	VMOVUPD 64(R9), Y5
	VMOVUPD 0(R10), Y6
	VMOVUPD 32(R10), Y7
	VMOVUPD 64(R10), Y8
	VMOVUPD 0(R11), Y9
	VMOVUPD 32(R11), Y10
	VMOVUPD 64(R11), Y11

round12x2:
	TWO(0(SI), 0(DI), Y0, Y3, Y6, Y9)
	TWO(32(SI), 32(DI), Y1, Y4, Y7, Y10)
	TWO(64(SI), 64(DI), Y2, Y5, Y8, Y11)
	ADDQ DX, SI
	ADDQ DX, DI
	DECQ CX
	JNE round12x2

	VMOVUPD Y0, 0(R8)
	VMOVUPD Y1, 32(R8)
	VMOVUPD Y2, 64(R8)
	VMOVUPD Y3, 0(R9)
	VMOVUPD Y4, 32(R9)
	VMOVUPD Y5, 64(R9)
	VMOVUPD Y6, 0(R10)
	VMOVUPD Y7, 32(R10)
	VMOVUPD Y8, 64(R10)
	VMOVUPD Y9, 0(R11)
	VMOVUPD Y10, 32(R11)
	VMOVUPD Y11, 64(R11)
	VZEROUPPER
	RET

// Both vectors of a sample are read before one is written, because they may
// share channels.
//
// func lanes8(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next, second int)
TEXT ·lanes8(SB), NOSPLIT, $0-64
	ARGUMENTS
	MOVQ second+56(FP), R12
	VMOVUPD (R8), Y0
	VMOVUPD (R8)(R12*1), Y1
	VMOVUPD (R9), Y2
	VMOVUPD (R9)(R12*1), Y3

round8:
	VMOVUPD (SI)(R12*1), Y11
	ONE((SI), (DI), Y0, Y2)
	ONE(Y11, (DI)(R12*1), Y1, Y3)
	ADDQ DX, SI
	ADDQ DX, DI
	DECQ CX
	JNE round8

	VMOVUPD Y0, (R8)
	VMOVUPD Y1, (R8)(R12*1)
	VMOVUPD Y2, (R9)
	VMOVUPD Y3, (R9)(R12*1)
	VZEROUPPER
	RET

// func lanes8x2(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next, second int)
TEXT ·lanes8x2(SB), NOSPLIT, $0-64
	ARGUMENTS
	MOVQ second+56(FP), R12
	MOVQ next+48(FP), R11
	LEAQ (R9)(R11*1), R10
	ADDQ R10, R11
	VMOVUPD (R8), Y0
	VMOVUPD (R8)(R12*1), Y1
	VMOVUPD (R9), Y2
	VMOVUPD (R9)(R12*1), Y3
	VMOVUPD (R10), Y4
	VMOVUPD (R10)(R12*1), Y5
	VMOVUPD (R11), Y6
	VMOVUPD (R11)(R12*1), Y7

round8x2:
	VMOVUPD (SI)(R12*1), Y11
	TWO((SI), (DI), Y0, Y2, Y4, Y6)
	TWO(Y11, (DI)(R12*1), Y1, Y3, Y5, Y7)
	ADDQ DX, SI
	ADDQ DX, DI
	DECQ CX
	JNE round8x2

	VMOVUPD Y0, (R8)
	VMOVUPD Y1, (R8)(R12*1)
	VMOVUPD Y2, (R9)
	VMOVUPD Y3, (R9)(R12*1)
	VMOVUPD Y4, (R10)
	VMOVUPD Y5, (R10)(R12*1)
	VMOVUPD Y6, (R11)
	VMOVUPD Y7, (R11)(R12*1)
	VZEROUPPER
	RET

// MIX adds, for four samples, the products of two series at P1 and P2 to the sums
// Y0 to Y7. C is where their weights begin.
#define MIX(C, P1, P2) \
	VMOVUPD (C+0)(BX), Y8;       \
	VMOVUPD (C+32)(BX), Y9;      \
	VMOVUPD (C+64)(BX), Y10;     \
	VMOVUPD (C+96)(BX), Y11;     \
	PRODUCTS(0, P1, P2, Y0, Y1);  \
	PRODUCTS(8, P1, P2, Y2, Y3);  \
	PRODUCTS(16, P1, P2, Y4, Y5); \
	PRODUCTS(24, P1, P2, Y6, Y7)

#define PRODUCTS(I, P1, P2, S1, S2) \
	VBROADCASTSD I(P1)(SI*1), Y12; \
	VBROADCASTSD I(P2)(SI*1), Y13; \
	VMULPD       Y8, Y12, Y14;     \
	VMULPD       Y10, Y13, Y15;    \
	VADDPD       Y15, Y14, Y14;    \
	VADDPD       Y14, S1, S1;      \
	VMULPD       Y9, Y12, Y12;     \
	VMULPD       Y11, Y13, Y13;    \
	VADDPD       Y13, Y12, Y12;    \
	VADDPD       Y12, S2, S2

// The input of the filter out of six series that lie apart, as slices after one
// another: six in mix.go, four samples at a time.
//
// func mix6(dst *float64, stride, samples int, series *[]float64, weights, offset *[2][4]float64, from int)
TEXT ·mix6(SB), NOSPLIT, $0-56
	MOVQ series+24(FP), SI
	MOVQ 0(SI), R8
	MOVQ 24(SI), R9
	MOVQ 48(SI), R10
	MOVQ 72(SI), R11
	MOVQ 96(SI), R12
	MOVQ 120(SI), R13
	MOVQ dst+0(FP), DI
	MOVQ stride+8(FP), DX
	MOVQ samples+16(FP), CX
	MOVQ weights+32(FP), BX
	MOVQ offset+40(FP), AX
	MOVQ from+48(FP), SI

fourSamples:
	VMOVUPD 0(AX), Y0
	VMOVUPD 32(AX), Y1
	VMOVAPD Y0, Y2
	VMOVAPD Y1, Y3
	VMOVAPD Y0, Y4
	VMOVAPD Y1, Y5
	VMOVAPD Y0, Y6
	VMOVAPD Y1, Y7
	MIX(0, R8, R9)
	MIX(128, R10, R11)
	MIX(256, R12, R13)
	VMOVUPD Y0, 0(DI)
	VMOVUPD Y1, 16(DI)
	ADDQ    DX, DI
	VMOVUPD Y2, 0(DI)
	VMOVUPD Y3, 16(DI)
	ADDQ    DX, DI
	VMOVUPD Y4, 0(DI)
	VMOVUPD Y5, 16(DI)
	ADDQ    DX, DI
	VMOVUPD Y6, 0(DI)
	VMOVUPD Y7, 16(DI)
	ADDQ    DX, DI
	ADDQ    $32, SI
	SUBQ    $4, CX
	JNE     fourSamples
	VZEROUPPER
	RET

// One sample all the way: six channels mixed from the readings, two series at a
// time, and through the sections, without a way through memory in between. The first
// four channels are in one register and the last four in another.
//
// func mixPush(f *FrontEnd, filtered, mixed *grf.Wrench, readings *float64) bool
TEXT ·mixPush(SB), NOSPLIT, $0-33
	MOVQ    f+0(FP), AX
	MOVQ    readings+24(FP), SI
	MOVQ    (FrontEnd_lanes+frontEndLanes_weights)(AX), DX
	MOVQ    (FrontEnd_lanes+frontEndLanes_series)(AX), CX
	VMOVUPD (FrontEnd_offset+0)(AX), Y0
	VMOVUPD (FrontEnd_offset+16)(AX), Y1
	SUBQ    $2, CX
	JLT     odd

twoSeries:
	VBROADCASTSD 0(SI), Y12
	VBROADCASTSD 8(SI), Y13
	VMULPD       0(DX), Y12, Y14
	VMULPD       64(DX), Y13, Y15
	VADDPD       Y15, Y14, Y14
	VADDPD       Y14, Y0, Y0
	VMULPD       32(DX), Y12, Y12
	VMULPD       96(DX), Y13, Y13
	VADDPD       Y13, Y12, Y12
	VADDPD       Y12, Y1, Y1
	ADDQ         $16, SI
	ADDQ         $128, DX
	SUBQ         $2, CX
	JGE          twoSeries

odd:
	ADDQ         $2, CX
	JEQ          mixed
	VBROADCASTSD 0(SI), Y12
	VMULPD       0(DX), Y12, Y14
	VADDPD       Y14, Y0, Y0
	VMULPD       32(DX), Y12, Y12
	VADDPD       Y12, Y1, Y1

mixed:
	MOVQ         mixed+16(FP), DI
	VMOVUPD      Y0, 0(DI)
	VMOVUPD      Y1, 16(DI)
	VBROADCASTSD magnitude<>(SB), Y8
	VBROADCASTSD FrontEnd_limit(AX), Y9
	VANDPD       Y8, Y0, Y10
	VCMPPD       $0x16, Y9, Y10, Y10
	VANDPD       Y8, Y1, Y11
	VCMPPD       $0x16, Y9, Y11, Y11
	VORPD        Y11, Y10, Y10

	MOVQ (FrontEnd_lanes+frontEndLanes_coefs)(AX), BX
	MOVQ (FrontEnd_lanes+frontEndLanes_sections)(AX), CX
	MOVQ (FrontEnd_lanes+frontEndLanes_memory)(AX), R8

nextSection:
	VMOVUPD 0(R8), Y4
	VMOVUPD 16(R8), Y5
	VMOVUPD 48(R8), Y6
	VMOVUPD 64(R8), Y7
	SECTION(0, Y0, Y2, Y14, Y15, Y4, Y6)
	SECTION(0, Y1, Y3, Y14, Y15, Y5, Y7)
	VMOVUPD Y4, 0(R8)
	VMOVUPD Y5, 16(R8)
	VMOVUPD Y6, 48(R8)
	VMOVUPD Y7, 64(R8)
	VMOVAPD Y2, Y0
	VMOVAPD Y3, Y1
	ADDQ    $128, BX
	ADDQ    $96, R8
	DECQ    CX
	JNE     nextSection

	MOVQ         filtered+8(FP), DI
	VMOVUPD      Y0, 0(DI)
	VMOVUPD      Y1, 16(DI)
	VSUBPD       Y0, Y0, Y0           // NaN where it is not finite
	VSUBPD       Y1, Y1, Y1
	VCMPPD       $3, Y1, Y0, Y0       // unordered
	VORPD        Y0, Y10, Y10
	VMOVMSKPD    Y10, AX
	TESTL        AX, AX
	SETEQ        ret+32(FP)
	VZEROUPPER
	RET

DATA magnitude<>+0(SB)/8, $0x7fffffffffffffff
GLOBL magnitude<>(SB), RODATA, $8

// 0x16 asks for 'not less or equal, or unordered'.
#define LOOK(x, Y) \
	VANDPD x, Y1, Y;        \
	VCMPPD $0x16, Y2, Y, Y; \
	VORPD  Y, Y0, Y0

// func within(x []float64, limit float64) bool
TEXT ·within(SB), NOSPLIT, $0-33
	MOVQ         x_base+0(FP), SI
	MOVQ         x_len+8(FP), CX
	VBROADCASTSD magnitude<>(SB), Y1
	VBROADCASTSD limit+24(FP), Y2
	VXORPD       Y0, Y0, Y0
	SUBQ         $16, CX
	JLT          fours

sixteens:
	LOOK(0(SI), Y3)
	LOOK(32(SI), Y4)
	LOOK(64(SI), Y5)
	LOOK(96(SI), Y6)
	ADDQ $128, SI
	SUBQ $16, CX
	JGE  sixteens

fours:
	ADDQ $12, CX
	JLT  told

four:
	LOOK(0(SI), Y3)
	ADDQ $32, SI
	SUBQ $4, CX
	JGE  four

told:
	VMOVMSKPD Y0, AX
	TESTL     AX, AX
	SETEQ     ret+32(FP)
	VZEROUPPER
	RET

// func cpuid1() (ecx uint32)
TEXT ·cpuid1(SB), NOSPLIT, $0-4
	MOVL $1, AX
	XORL CX, CX
	CPUID
	MOVL CX, ecx+0(FP)
	RET

// func xgetbv0() (eax uint32)
TEXT ·xgetbv0(SB), NOSPLIT, $0-4
	XORL CX, CX
	XGETBV
	MOVL AX, eax+0(FP)
	RET
