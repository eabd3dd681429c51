//go:build !purego

#include "textflag.h"

// The vector kernel for plates of six channels. It is the loop of the function six
// in plate.go for four samples at a time, with the same products and sums in the
// same order and without fused multiply-add, so that it gives the same digits.
//
// The values of a channel lie one after the other, those of a wrench have to: six
// registers take four samples of each channel, six take four samples of each
// component of the wrench, which are then turned round.
//
// Before it returns it clears the upper halves of the vector registers: without
// that the code that the Go compiler makes would run slower from there on.

// ROW makes component k of the wrench. BX points at a product.
#define ROW(k, Y) \
	VMULPD (192*k+0)(BX), Y0, Y;     \
	VMULPD (192*k+32)(BX), Y1, Y12;  \
	VADDPD Y12, Y, Y;                \
	VMULPD (192*k+64)(BX), Y2, Y13;  \
	VMULPD (192*k+96)(BX), Y3, Y14;  \
	VADDPD Y14, Y13, Y13;            \
	VADDPD Y13, Y, Y;                \
	VMULPD (192*k+128)(BX), Y4, Y12; \
	VMULPD (192*k+160)(BX), Y5, Y15; \
	VADDPD Y15, Y12, Y12;            \
	VADDPD Y12, Y, Y;                \
	VSUBPD (1152+32*k)(BX), Y, Y

// func fours(dst *float64, stride, rounds int, channels *[6]*float64, p *product)
TEXT ·fours(SB), NOSPLIT, $0-40
	MOVQ dst+0(FP), DI
	MOVQ stride+8(FP), SI
	MOVQ rounds+16(FP), CX
	MOVQ channels+24(FP), AX
	MOVQ p+32(FP), BX
	MOVQ 0(AX), R8
	MOVQ 8(AX), R9
	MOVQ 16(AX), R10
	MOVQ 24(AX), R11
	MOVQ 32(AX), R12
	MOVQ 40(AX), R13
	LEAQ (SI)(SI*2), DX
	XORQ AX, AX

round:
	VMOVUPD (R8)(AX*1), Y0
	VMOVUPD (R9)(AX*1), Y1
	VMOVUPD (R10)(AX*1), Y2
	VMOVUPD (R11)(AX*1), Y3
	VMOVUPD (R12)(AX*1), Y4
	VMOVUPD (R13)(AX*1), Y5
	ROW(0, Y6)
	ROW(1, Y7)
	ROW(2, Y8)
	ROW(3, Y9)
	ROW(4, Y10)
	ROW(5, Y11)

	// Y6 … Y9 hold the first four components of samples 0 to 3: turn them round.
	VUNPCKLPD  Y7, Y6, Y12            // 0 and 2 of components 0, 1
	VUNPCKHPD  Y7, Y6, Y13            // 1 and 3
	VUNPCKLPD  Y9, Y8, Y14            // 0 and 2 of components 2, 3
	VUNPCKHPD  Y9, Y8, Y15            // 1 and 3
	VUNPCKLPD  Y11, Y10, Y0           // 0 and 2 of components 4, 5
	VUNPCKHPD  Y11, Y10, Y1           // 1 and 3
	VPERM2F128 $0x20, Y14, Y12, Y6
	VPERM2F128 $0x20, Y15, Y13, Y7
	VPERM2F128 $0x31, Y14, Y12, Y8
	VPERM2F128 $0x31, Y15, Y13, Y9

	VMOVUPD      Y6, (DI)
	VMOVUPD      X0, 32(DI)
	VMOVUPD      Y7, (DI)(SI*1)
	VMOVUPD      X1, 32(DI)(SI*1)
	VMOVUPD      Y8, (DI)(SI*2)
	VEXTRACTF128 $1, Y0, 32(DI)(SI*2)
	VMOVUPD      Y9, (DI)(DX*1)
	VEXTRACTF128 $1, Y1, 32(DI)(DX*1)
	LEAQ         (DI)(SI*4), DI
	ADDQ         $32, AX
	DECQ         CX
	JNZ          round

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
