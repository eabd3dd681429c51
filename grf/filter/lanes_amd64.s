//go:build !purego

#include "textflag.h"

// The vector kernel: one section over four, up to eight or twelve channels that
// lie side by side, in place. It is the loop of way.pair in kernel.go, four
// channels to a register, with the same products and sums in the same order and
// without fused multiply-add, so that it gives the same digits.
//
// A register holds the value of four channels. Twelve channels need three for
// each of the four sums, which stay in registers from the first sample to the
// last. Two samples are done in a round, so that the older of the two rests, R,
// makes place for the newest without being moved.
//
// Before a function returns it clears the upper halves of the vector registers
// (VZEROUPPER). Without that the SSE code that the Go compiler makes would be
// slowed down from there on, on many processors to less than half its speed.

// Offsets in the struct lanes.
#define B0 0
#define B1 32
#define A1 64
#define A2 96
#define SUMX1 128
#define SUMY1 224
#define SUMR1 320
#define SUMR2 416

// STEP filters one sample of four channels from x to y, which may be the same
// place in memory. BX points at a lanes, Y12 holds b0, Y13 b1.
//
//	u = b0·x
//	y = u + X + R − Y
//	X = b1·x, Y = a1·y, R = u − a2·y
#define STEP(x, y, X, Y, R) \
	VMULPD  x, Y12, Y14;       \
	VADDPD  X, Y14, Y15;       \
	VMULPD  x, Y13, X;         \
	VADDPD  R, Y15, Y15;       \
	VSUBPD  Y, Y15, Y15;       \
	VMOVUPD Y15, y;            \
	VMULPD  A1(BX), Y15, Y;    \
	VMULPD  A2(BX), Y15, R;    \
	VSUBPD  R, Y14, R

// func lanes12(first *float64, step, samples int, l *lanes)
TEXT ·lanes12(SB), NOSPLIT, $0-32
	MOVQ    first+0(FP), DI
	MOVQ    step+8(FP), SI
	MOVQ    samples+16(FP), CX
	MOVQ    l+24(FP), BX
	VMOVUPD B0(BX), Y12
	VMOVUPD B1(BX), Y13
	VMOVUPD (SUMX1+0)(BX), Y0
	VMOVUPD (SUMX1+32)(BX), Y1
	VMOVUPD (SUMX1+64)(BX), Y2
	VMOVUPD (SUMY1+0)(BX), Y3
	VMOVUPD (SUMY1+32)(BX), Y4
	VMOVUPD (SUMY1+64)(BX), Y5
	VMOVUPD (SUMR1+0)(BX), Y6
	VMOVUPD (SUMR1+32)(BX), Y7
	VMOVUPD (SUMR1+64)(BX), Y8
	VMOVUPD (SUMR2+0)(BX), Y9
	VMOVUPD (SUMR2+32)(BX), Y10
	VMOVUPD (SUMR2+64)(BX), Y11
	SUBQ    $2, CX
	JLT     rest12

round12:
	STEP(0(DI), 0(DI), Y0, Y3, Y9)
	STEP(32(DI), 32(DI), Y1, Y4, Y10)
	STEP(64(DI), 64(DI), Y2, Y5, Y11)
	ADDQ SI, DI
	STEP(0(DI), 0(DI), Y0, Y3, Y6)
	STEP(32(DI), 32(DI), Y1, Y4, Y7)
	STEP(64(DI), 64(DI), Y2, Y5, Y8)
	ADDQ SI, DI
	SUBQ $2, CX
	JGE  round12

rest12:
	CMPQ CX, $-1
	JNE  done12
	STEP(0(DI), 0(DI), Y0, Y3, Y9)
	STEP(32(DI), 32(DI), Y1, Y4, Y10)
	STEP(64(DI), 64(DI), Y2, Y5, Y11)

done12:
	VZEROUPPER
	RET

// Both vectors of a sample are read before one is written, because they may
// share channels.
//
// func lanes8(first *float64, step, samples, second int, l *lanes)
TEXT ·lanes8(SB), NOSPLIT, $0-40
	MOVQ    first+0(FP), DI
	MOVQ    step+8(FP), SI
	MOVQ    samples+16(FP), CX
	MOVQ    second+24(FP), DX
	MOVQ    l+32(FP), BX
	VMOVUPD B0(BX), Y12
	VMOVUPD B1(BX), Y13
	VMOVUPD (SUMX1+0)(BX), Y0
	VMOVUPD (SUMX1+32)(BX), Y1
	VMOVUPD (SUMY1+0)(BX), Y2
	VMOVUPD (SUMY1+32)(BX), Y3
	VMOVUPD (SUMR1+0)(BX), Y4
	VMOVUPD (SUMR1+32)(BX), Y5
	VMOVUPD (SUMR2+0)(BX), Y6
	VMOVUPD (SUMR2+32)(BX), Y7
	SUBQ    $2, CX
	JLT     rest8

round8:
	VMOVUPD (DI), Y8
	VMOVUPD (DI)(DX*1), Y9
	STEP(Y8, (DI), Y0, Y2, Y6)
	STEP(Y9, (DI)(DX*1), Y1, Y3, Y7)
	ADDQ    SI, DI
	VMOVUPD (DI), Y8
	VMOVUPD (DI)(DX*1), Y9
	STEP(Y8, (DI), Y0, Y2, Y4)
	STEP(Y9, (DI)(DX*1), Y1, Y3, Y5)
	ADDQ    SI, DI
	SUBQ    $2, CX
	JGE     round8

rest8:
	CMPQ    CX, $-1
	JNE     done8
	VMOVUPD (DI), Y8
	VMOVUPD (DI)(DX*1), Y9
	STEP(Y8, (DI), Y0, Y2, Y6)
	STEP(Y9, (DI)(DX*1), Y1, Y3, Y7)

done8:
	VZEROUPPER
	RET

// func lanes4(first *float64, step, samples int, l *lanes)
TEXT ·lanes4(SB), NOSPLIT, $0-32
	MOVQ    first+0(FP), DI
	MOVQ    step+8(FP), SI
	MOVQ    samples+16(FP), CX
	MOVQ    l+24(FP), BX
	VMOVUPD B0(BX), Y12
	VMOVUPD B1(BX), Y13
	VMOVUPD SUMX1(BX), Y0
	VMOVUPD SUMY1(BX), Y1
	VMOVUPD SUMR1(BX), Y2
	VMOVUPD SUMR2(BX), Y3
	SUBQ    $2, CX
	JLT     rest4

round4:
	STEP((DI), (DI), Y0, Y1, Y3)
	ADDQ SI, DI
	STEP((DI), (DI), Y0, Y1, Y2)
	ADDQ SI, DI
	SUBQ $2, CX
	JGE  round4

rest4:
	CMPQ CX, $-1
	JNE  done4
	STEP((DI), (DI), Y0, Y1, Y3)

done4:
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
